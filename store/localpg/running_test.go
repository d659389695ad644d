//go:build unix

package localpg_test

import (
	"os"
	"testing"

	"hodman/store/localpg"
)

func TestRunningIsFoundWhileItRuns(t *testing.T) {
	dir := folder(t)
	running := func() string {
		url, err := localpg.Running(t.Context(), dir)
		if err != nil {
			t.Fatal(err)
		}
		return url
	}
	if url := running(); url != "" {
		t.Error("found before there was one")
	}
	if entries, _ := os.ReadDir(dir); len(entries) != 0 {
		t.Errorf("looking made %v", entries)
	}
	s := mustStart(t, dir)
	if url := running(); url != s.URL() {
		t.Error("the URL is not the one that the server gives")
	}
	mustStop(t, s)
	if url := running(); url != "" {
		t.Error("found after it had stopped")
	}
}
