package api

import (
	"net/http"
	"regexp"
	"sync"

	"github.com/labstack/echo/v4"
	"github.com/swaggest/swgui/v5emb"

	"hodman/openapi"
)

// documentJSON is the contract as it is served.
var documentJSON = sync.OnceValues(func() ([]byte, error) { return openapi.Document().MarshalJSON() })

// policy lets the pages load what is embedded here and nothing else. The page that
// swgui writes carries its start-up script in itself.
const policy = "default-src 'none'; script-src 'self' 'unsafe-inline'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// asset is a file that the page loads.
var asset = regexp.MustCompile(`^(swagger-ui\.css|swagger-ui-bundle\.js|swagger-ui-standalone-preset\.js|favicon-(16x16|32x32)\.png|oauth2-redirect\.html)$`)

// serveDocument serves the contract, for programs and for people.
func (s *server) serveDocument(e *echo.Echo) {
	e.GET("/openapi.json", func(c echo.Context) error {
		doc, err := documentJSON()
		if err != nil {
			return err
		}
		h := c.Response().Header()
		h.Set("Cache-Control", "public, max-age=300")
		return c.Blob(http.StatusOK, "application/json", doc)
	})
	pages := echo.WrapHandler(v5emb.New("hodman", "/openapi.json", "/docs/"))
	secured := func(c echo.Context) error {
		if name := c.Param("*"); name != "" && !asset.MatchString(name) {
			return echo.ErrNotFound // a problem, not the file server's own page
		}
		c.Response().Header().Set("Content-Security-Policy", policy)
		c.Response().Header().Set("Referrer-Policy", "no-referrer")
		return pages(c)
	}
	e.GET("/docs", func(c echo.Context) error { return c.Redirect(http.StatusMovedPermanently, "/docs/") })
	e.GET("/docs/*", secured)
}
