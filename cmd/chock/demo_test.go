package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/cmd/chock/internal/record"
)

var clockLine = regexp.MustCompile(`(?m)^(started|saved): .*$`)

// The records of the demo are what its answers come to now; -update writes
// them anew, on days of their own.
func TestDemoRecords(t *testing.T) {
	for name, day := range map[string]string{"before": "2024-09-14", "after": "2024-09-21"} {
		made := filepath.Join(t.TempDir(), "r.yaml")
		var out bytes.Buffer
		require.NoError(t, run([]string{"talk", "--vehicle", "demo/vehicle.yaml", "--answers", "demo/" + name + "-answers.yaml", "--record", made},
			strings.NewReader(""), &out, &out))
		assert.NotContains(t, out.String(), "never asked", name)
		fresh, err := os.ReadFile(made)
		require.NoError(t, err)
		fresh = clockLine.ReplaceAll(fresh, []byte("$1: "+day+"T09:00:00Z"))
		path := "demo/" + name + ".yaml"
		if *updateDocs {
			require.NoError(t, os.WriteFile(path, fresh, 0o644))
		}
		kept, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, string(kept), string(fresh), "%s: look at it, then: go test ./cmd/chock -run TestDemo -update", path)
	}
}

// What the demo is there to show stands in its records and on their pages, and
// each page says that the vehicle is invented.
func TestDemoShows(t *testing.T) {
	before, err := record.Load("demo/before.yaml")
	require.NoError(t, err)
	found := map[string]bool{}
	for _, f := range before.Findings {
		found[f.Cause] = f.Standing == "found"
	}
	for _, cause := range []string{"rotor-thickness-varies", "rotor-runs-out", "hub-face-runs-out", "caliper-sticks"} {
		assert.True(t, found[cause], cause)
	}
	verdicts := map[string]int{}
	for _, m := range before.Measurements {
		for _, v := range m.Verdicts {
			verdicts[v.Verdict]++
		}
	}
	assert.Equal(t, 1, verdicts["too-close"], "one reading too close to call")
	assert.NotEmpty(t, before.NotChecked)
	after, err := record.Load("demo/after.yaml")
	require.NoError(t, err)
	for _, m := range after.Measurements {
		for _, v := range m.Verdicts {
			assert.Equal(t, "within", v.Verdict, "%s %s", m.ID, v.Of)
		}
	}
	for _, f := range after.Findings {
		assert.NotEqual(t, "found", f.Standing, f.Cause)
	}
	for _, name := range []string{"before", "after"} {
		for _, format := range []string{"text", "html"} {
			var out bytes.Buffer
			require.NoError(t, run([]string{"report", "demo/" + name + ".yaml", "--format", format}, nil, &out, &out))
			assert.Contains(t, out.String(), "demo, invented vehicle", "%s as %s", name, format)
			assert.Equal(t, format == "html", strings.Contains(out.String(), "<svg"), "%s as %s", name, format)
		}
	}
}

// The pace comes from what stands there, and a key ends the waiting.
func TestDemoPace(t *testing.T) {
	assert.Zero(t, timeToRead(" \n", 600))
	assert.Equal(t, time.Minute, timeToRead(strings.Repeat("words ", 600), 600))
	key := make(chan byte, 1)
	key <- 'q'
	assert.ErrorIs(t, paced(1, key)(strings.Repeat("words ", 600)), errDemoOver)
	key <- 3
	assert.ErrorIs(t, paced(1, key)(strings.Repeat("words ", 600)), errDemoCut)
	assert.NoError(t, paced(600, key)(""))
}
