package api

import (
	"net/http"
	"strings"
	"testing"

	"hodman/testdata"
)

// TestMortarAndSettingOut asks for what a schedule may ask for besides: answers are held
// against the document as all are, and the drops of each can be planned.
func TestMortarAndSettingOut(t *testing.T) {
	c := computing(t, Config{Rate: -1})
	wing := strings.TrimSpace(string(testdata.RearWing))
	drops := strings.TrimSuffix(strings.TrimSpace(string(testdata.RearWingDrops)), "}")
	for name, ask := range map[string]struct{ asked, says string }{
		"site mix":     {`"mortar_supply":"site_mix"`, `"SAND-850"`},
		"plasticiser":  {`"plasticiser":true`, `"PLAST-5"`},
		"tubs":         {`"mortar_supply":"ready_to_use"`, `"unit":"l"`},
		"bags":         {`"mortar_supply":"bagged_dry"`, `"DRY-M4-25"`},
		"silo":         {`"mortar_supply":"silo"`, `"SILO-M4"`},
		"as given":     {`"setting_out":"as_given"`, `"nudges":[{`},
		"at its best":  {`"setting_out":"best"`, `"way":"perpends"`},
		"closing ways": {`"cut_reuse":"best"`, `"make_ups":[{`},
	} {
		t.Run(name, func(t *testing.T) {
			doc := strings.Replace(wing, "{", "{"+ask.asked+",", 1)
			taken := c.send(http.MethodPost, "/v1/takeoffs", doc).want(t, http.StatusOK)
			if !strings.Contains(string(taken.body), ask.says) {
				t.Errorf("no %s in the answer", ask.says)
			}
			c.send(http.MethodPost, "/v1/drop-plans", drops+`,"takeoff":`+string(taken.body)+"}").want(t, http.StatusOK)
		})
	}
	leaf := `{"bed_joint_mm":3,"perpend_mm":3,"laid_frog":"down","pigment":0.05,"product":"BRK-65-FACE"}`
	thin := c.send(http.MethodPost, "/v1/takeoffs", strings.Replace(small, `{"product":"BRK-65-FACE"}`, leaf, 1)).want(t, http.StatusOK)
	if !strings.Contains(string(thin.body), `"mortar":"thin_layer"`) {
		t.Errorf("no thin-layer mortar in %s", thin.body)
	}
	c.send(http.MethodGet, "/v1/products?kind=silo_mortar", "").want(t, http.StatusOK)
}
