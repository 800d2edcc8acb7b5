package report

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/cmd/chock/internal/record"
)

// The picture of the README is drawn from the demo's own record. By itself it
// stands on white, for the page around it may be dark.
func TestDemoPicture(t *testing.T) {
	rec, err := record.Load("../../demo/before.yaml")
	require.NoError(t, err)
	for _, m := range rec.Measurements {
		if m.ID != "front-rotor-thickness" || m.Wheel != "front-left" {
			continue
		}
		drawing := string(plots(rec, m)[0].SVG("demo"))
		require.Equal(t, 1, strings.Count(drawing, "<svg "))
		drawing = strings.Replace(drawing, "<svg ", "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"360\" font-family=\"sans-serif\" color=\"black\" style=\"background: white\" ", 1) + "\n"
		const path = "../../../../docs/demo.svg"
		if *update {
			require.NoError(t, os.WriteFile(path, []byte(drawing), 0o644))
		}
		kept, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, string(kept), drawing, "look at it, then: go test ./cmd/chock/internal/report -run TestDemoPicture -update")
		return
	}
	t.Fatal("the demo's record has no thickness of the left front rotor")
}
