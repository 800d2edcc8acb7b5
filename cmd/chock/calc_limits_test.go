package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/brakes"
	"chock/cmd/chock/internal/record"
)

// The example of docs/limits.md is the file beside it, is read, and becomes a
// policy; the page names all that a rule can be written in.
func TestCalcLimitsExample(t *testing.T) {
	page, err := os.ReadFile(filepath.Join(root, "docs", "limits.md"))
	require.NoError(t, err)
	path := filepath.Join(root, "docs", "limits-example.yaml")
	example, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(page), "```yaml\n"+string(example)+"```")
	file, err := record.LoadLimits(path, limitLanguage())
	require.NoError(t, err)
	p := ownPolicy(file, path)
	require.Len(t, p.Rules, 3)
	for _, r := range p.Rules {
		assert.Equal(t, brakes.Yours, r.Limit.Mark)
		assert.NotEmpty(t, r.Called)
		assert.NotEmpty(t, r.Limit.Source)
	}
	assert.Equal(t, []brakes.ForFact{{Of: "axle", Is: []string{"front"}}}, p.Rules[1].Only)
	for _, m := range brakes.Measurands() {
		if !m.About {
			assert.Contains(t, string(page), "`"+string(m.ID)+"`", "docs/limits.md lists the measurands")
		}
	}
	for _, f := range brakes.Facts() {
		assert.Contains(t, string(page), "`"+f.Of+"`", "docs/limits.md lists the facts")
	}
}

func TestCalcLimitsOfOnesOwn(t *testing.T) {
	path := filepath.Join(t.TempDir(), "own.yaml")
	write := func(text string) { require.NoError(t, os.WriteFile(path, []byte(text), 0o600)) }
	own := "schema: 1\nlimits: ours\njurisdiction: us\nrules:\n  pads: {measurand: lining, must: at least, value: 3 mm, source: our book}\nend: chock\n"
	write(own)
	out, err := execute(newCalc(), "limits", "--limits", path, "--pad", "2.5 mm", "--policy", "uk-mot", "--strict")
	var e exit
	require.ErrorAs(t, err, &e)
	assert.Equal(t, exitStrict, e.code)
	assert.Contains(t, out, "by ours (our book,\nyours): outside (not kept).")
	out, err = execute(newCalc(), "limits", "--limits", path, "--pad", "3 mm", "--json", "--strict")
	require.NoError(t, err)
	assert.Contains(t, out, `"of": "yours/ours/pads"`)
	assert.Contains(t, out, `"mark": "yours"`)
	assert.Contains(t, out, `"say": "from `+path)
	// Nobody asked for the published ones, so they are not counted.
	_, err = execute(newCalc(), "limits", "--pad", "1 mm", "--strict")
	assert.ErrorContains(t, err, "--strict needs a limit: give one of --policy")

	write(strings.Replace(own, "ours", "uk-mot", 1))
	_, err = execute(newCalc(), "limits", "--limits", path, "--pad", "3 mm")
	assert.ErrorContains(t, err, "uk-mot is the name of a published policy; choose another")
	write(strings.Replace(own, "3 mm", "3", 1))
	_, err = execute(newCalc(), "limits", "--limits", path, "--pad", "3 mm")
	assert.ErrorContains(t, err, `own.yaml:5: rule pads: "3": which unit?`)
	_, err = execute(newCalc(), "limits", "--limits", path+"x", "--pad", "3 mm")
	assert.ErrorContains(t, err, "docs/limits.md")
	_, err = execute(newCalc(), "rotor", "--limits", path)
	assert.ErrorContains(t, err, "unknown flag")
}
