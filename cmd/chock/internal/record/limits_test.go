package record

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"chock/brakes/unit"
)

var testLanguage = LimitLanguage{
	Measures: []LimitMeasure{
		{ID: "lining", Kind: unit.KindLength, Low: 0.0003, High: 0.03},
		{ID: "pedal-used", Kind: unit.KindRatio, Low: 0.1, High: 1},
		{ID: "strokes", Kind: unit.KindCount, Low: 1, High: 10},
	},
	Musts: []string{"at least", "more than", "at most", "less than"},
	Facts: map[string][]string{"axle": {"front", "rear"}, "trailer": {"yes", "no"}},
}

const ownLimits = `# Limits of our vans. All figures are invented.
schema: 1
limits: our-vans
jurisdiction: our workshop

rules:
  pads:
    measurand: lining
    must: at least
    value: 3 mm
    source: workshop book, page 3
    called: change now # in red
  pedal:
    measurand: pedal-used
    must: less than
    value: 60 %
    source: "the owner: May 2026"
    note: engine running
    for: {axle: front, trailer: yes}

end: chock
`

func TestLimitsFile(t *testing.T) {
	f, err := ParseLimits("l.yaml", []byte(ownLimits), testLanguage)
	require.NoError(t, err)
	assert.Equal(t, "our-vans", f.Name)
	assert.Equal(t, "our workshop", f.Jurisdiction)
	require.Len(t, f.Rules, 2)
	r := f.Rules[0]
	assert.Equal(t, "pads lining at least 3 mm workshop book, page 3 change now ", strings.Join([]string{r.ID, r.Measurand, r.Must, r.Value.Text, r.Source, r.Called, r.Note}, " "))
	assert.InDelta(t, 0.003, r.Value.SI, 1e-12)
	r = f.Rules[1]
	assert.Equal(t, "the owner: May 2026", r.Source)
	assert.Equal(t, map[string]string{"axle": "front", "trailer": "yes"}, r.For)
	assert.InDelta(t, 0.6, r.Value.SI, 1e-12)

	path := filepath.Join(t.TempDir(), "l.yaml")
	require.NoError(t, os.WriteFile(path, []byte(strings.ReplaceAll(ownLimits, "\n", "\r\n")), 0o600))
	again, err := LoadLimits(path, testLanguage)
	require.NoError(t, err)
	assert.Equal(t, f, again)
	_, err = LoadLimits(path+"x", testLanguage)
	assert.ErrorIs(t, err, os.ErrNotExist)
	assert.ErrorContains(t, err, "docs/limits.md")
	require.NoError(t, os.WriteFile(path, make([]byte, 2<<20), 0o600))
	_, err = LoadLimits(path, testLanguage)
	assert.EqualError(t, err, path+" is over 1 MB, and a file of chock is far smaller; is it the right one?")
}

func TestLimitsRefused(t *testing.T) {
	with := func(old, new string) string {
		require.Contains(t, ownLimits, old)
		return strings.Replace(ownLimits, old, new, 1)
	}
	for _, tt := range []struct{ name, file, want string }{
		{"empty", "\n", "l.yaml is empty; docs/limits.md has an example to copy"},
		{"other YAML", "shopping: [milk]\nend: chock\n", "l.yaml is not a limits file: it has no line limits: and a name; docs/limits.md has an example to copy"},
		{"a vehicle", "schema: 1\nvehicle: blue\nend: chock\n", "l.yaml is a vehicle file, not a limits file; give it with --vehicle"},
		{"a record", "schema: 1\nprogram: chock 1\nlimits: x\nend: chock\n", "l.yaml is the record of a check, not a limits file"},
		{"no schema", with("schema: 1\n", ""), "l.yaml has no line schema: 1; add it as the first line"},
		{"newer", with("schema: 1", "schema: 2"), "l.yaml has limits schema 2, and this chock reads 1; if it is for a newer chock, install that one"},
		{"cut short", with("end: chock\n", ""), `l.yaml is cut short: its last line is not "end: chock"; if nothing is missing, add that line`},
		{"control character", with("our workshop", "our\x1b[2J workshop"), "l.yaml:4: a character stands there that cannot be shown (0x1b); type that line anew"},
		{"escaped one", with("workshop book, page 3", `"\e[2J"`), "l.yaml:11: rule pads, source holds a character that cannot be shown; write it in plain letters, on one line"},
		{"not text", with("our workshop", "\xff"), "l.yaml:4: a character stands there that cannot be shown (0xfffd); type that line anew"},
		{"bad name", with("our-vans", "Our Vans"), `l.yaml:3: limits: "Our Vans" is no name here; use small letters, digits and hyphens, 40 at most, like our-vans`},
		{"no name", with("our-vans", ""), `l.yaml:3: limits: "" is no name here; use small letters, digits and hyphens, 40 at most, like our-vans`},
		{"nobody's", with("jurisdiction: our workshop\n", ""), "l.yaml:2: say whose limits these are: add jurisdiction: our workshop"},
		{"no rules", "schema: 1\nlimits: x\njurisdiction: us\nrules:\nend: chock\n", "l.yaml:4: rules: want one or more rules below it, each with its name"},
		{"rules left out", "schema: 1\nlimits: x\njurisdiction: us\nend: chock\n", "l.yaml:1: rules: want one or more rules below it, each with its name"},
		{"a list of rules", "schema: 1\nlimits: x\njurisdiction: us\nrules: [a]\nend: chock\n", "l.yaml:4: rules: want one or more rules below it, each with its name"},
		{"unknown key", with("jurisdiction:", "place: here\njurisdiction:"), `l.yaml:4: "place" has no place there; the file takes schema, limits, jurisdiction, rules, end`},
		{"bad rule name", with("  pads:", "  Pads!:"), `l.yaml:7: rules: "Pads!" is no name here; use small letters, digits and hyphens, 40 at most, like our-vans`},
		{"one line", with("  pads:\n    measurand: lining\n    must: at least\n    value: 3 mm\n    source: workshop book, page 3\n    called: change now # in red\n", "  pads: 3 mm\n"), "l.yaml:7: rule pads: want lines below it: measurand, must, value, source"},
		{"unknown part", with("called:", "page:"), `l.yaml:12: rule pads: "page" has no place there; a rule takes measurand, must, value, source, called, note and for; a comma inside {} parts entries, so quote words that have one`},
		{"no measurand", with("    measurand: lining\n", ""), "l.yaml:7: rule pads has no measurand; add measurand: lining, or another of lining, pedal-used, strokes"},
		{"unknown measurand", with("measurand: lining", "measurand: horn"), `l.yaml:8: rule pads: "horn" is nothing that a rule can speak about; want one of lining, pedal-used, strokes`},
		{"no must", with("    must: at least\n", "    must:\n"), "l.yaml:9: rule pads has no must; add must: at least, or another of at least, more than, at most, less than"},
		{"unknown must", with("must: at least", "must: about"), `l.yaml:9: rule pads: must is "about"; want one of at least, more than, at most, less than`},
		{"no value", with("    value: 3 mm\n", ""), "l.yaml:7: rule pads has no value; add value: and a number with its unit, like 3 mm"},
		{"no unit", with("3 mm", "3"), `l.yaml:10: rule pads: "3": which unit? one of mm, um, cm, m, km, in, thou, ft, mi`},
		{"wrong unit", with("3 mm", "3 psi"), `l.yaml:10: rule pads: "3 psi": unit "psi" is not one of mm, um, cm, m, km, in, thou, ft, mi`},
		{"implausible", with("3 mm", "3 in"), "l.yaml:10: rule pads: 3 in is outside 0.01181 to 1.181 in; did you mean 3 mm or 3 cm?"},
		{"no number", with("3 mm", ".nan"), "l.yaml:10: .nan is no number"},
		{"no source", with("    source: workshop book, page 3\n", ""), "l.yaml:7: rule pads has no source; add source: who says so, and where it stands"},
		{"empty source", with("workshop book, page 3", ""), "l.yaml:11: rule pads has no source; add source: who says so, and where it stands"},
		{"long source", with("workshop book, page 3", strings.Repeat("x", 401)), "l.yaml:11: rule pads, source is longer than 400 letters; shorten it"},
		{"half a stroke", with("measurand: pedal-used\n    must: less than\n    value: 60 %", "measurand: strokes\n    must: less than\n    value: 1.5"), `l.yaml:16: rule pedal: "1.5": want a whole number, like 5`},
		{"for a word", with("{axle: front, trailer: yes}", "front"), "l.yaml:19: rule pedal, for: want it like for: {axle: front}"},
		{"unknown fact", with("axle: front", "colour: blue"), `l.yaml:19: rule pedal, for: "colour" is nothing that is known of a vehicle; want one of axle, trailer`},
		{"unknown word", with("axle: front", "axle: middle"), `l.yaml:19: rule pedal, for, axle: "middle" is none of front, rear`},
		{"a list for a word", with("axle: front", "axle: [front]"), "l.yaml:19: rule pedal, for, axle: want it in one line"},
		{"repeated", with("  pedal:", "  pads:"), `l.yaml:13: "pads" stands at line 7 already; keep one of them`},
		{"alias", with("lining", "&a lining"), "l.yaml:8: &a is an anchor; leave it out"},
		{"tag", with("value: 3 mm", "value: !!binary eA=="), "l.yaml:10: !!binary is a tag; leave it out"},
		{"two documents", with("rules:", "---\nrules:"), "l.yaml holds several documents; keep one of them"},
		{"broken YAML", with("{axle: front, trailer: yes}", "["), "l.yaml:19: not readable as YAML: did not find expected ',' or ']'; put that line right in an editor"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f, err := ParseLimits("l.yaml", []byte(tt.file), testLanguage)
			assert.EqualError(t, err, tt.want)
			assert.Nil(t, f)
		})
	}
	var many strings.Builder
	for i := range mostRules + 1 {
		fmt.Fprintf(&many, "  r%d: {measurand: lining, must: at least, value: 3 mm, source: us}\n", i)
	}
	_, err := ParseLimits("l.yaml", []byte("schema: 1\nlimits: x\njurisdiction: us\nrules:\n"+many.String()+"end: chock\n"), testLanguage)
	assert.EqualError(t, err, "l.yaml:5: rules: 201 of them; 200 are the most")
}

// Cut at any byte, a file is refused, or nothing but its last line break is
// missing and it is read whole.
func TestLimitsCutShort(t *testing.T) {
	whole, err := ParseLimits("l.yaml", []byte(ownLimits), testLanguage)
	require.NoError(t, err)
	for n := range len(ownLimits) {
		f, err := ParseLimits("l.yaml", []byte(ownLimits[:n]), testLanguage)
		if err == nil {
			require.Equal(t, len(ownLimits)-1, n)
			require.Equal(t, whole, f)
		}
	}
}

// Whatever is written by hand, in whatever order and layout, reads as meant.
func TestLimitsByHand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(testLanguage.Measures).Draw(t, "measurand")
		must := rapid.SampledFrom(testLanguage.Musts).Draw(t, "must")
		value := map[string]string{"lining": "1/16 in", "pedal-used": "0.75", "strokes": "2"}[m.ID]
		lines := rapid.Permutation([]string{"measurand: " + m.ID, "must: '" + must + "'", "value: " + value, `source: "a, b"`}).Draw(t, "order")
		block := "  one: {" + strings.Join(lines, ", ") + "}\n"
		if rapid.Bool().Draw(t, "lines") {
			block = "  one:\n    " + strings.Join(lines, "\n    # mine\n\n    ") + "\n"
		}
		parts := rapid.Permutation([]string{"schema: 1\n", "limits: x-1\n", "jurisdiction: us\n", "rules:\n" + block}).Draw(t, "parts")
		f, err := ParseLimits("l.yaml", []byte(strings.Join(parts, "# between\n")+"end: chock\n# behind\n"), testLanguage)
		require.NoError(t, err)
		require.Len(t, f.Rules, 1)
		r := f.Rules[0]
		require.Equal(t, []string{"one", m.ID, must, "a, b", value}, []string{r.ID, r.Measurand, r.Must, r.Source, r.Value.Text})
	})
}

func FuzzLimits(f *testing.F) {
	f.Add([]byte(ownLimits))
	f.Add([]byte("schema: 1\nlimits: x\njurisdiction: us\nrules: {a: {measurand: lining, must: at most, value: 1/16 in, source: us}}\nend: chock"))
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := ParseLimits("l.yaml", data, testLanguage)
		if err != nil {
			require.Nil(t, file)
			require.Contains(t, err.Error(), "l.yaml")
			return
		}
		// What is read is whole: it can be shown, judged and named.
		require.NotEmpty(t, file.Name)
		require.NotEmpty(t, file.Jurisdiction)
		require.NotEmpty(t, file.Rules)
		for _, r := range file.Rules {
			require.NotEmpty(t, r.Source)
			require.Contains(t, testLanguage.Musts, r.Must)
			require.Greater(t, r.Value.SI, 0.0)
			for _, text := range []string{file.Name, file.Jurisdiction, r.ID, r.Source, r.Called, r.Note} {
				require.NoError(t, checkText(text, longestNote))
			}
		}
	})
}
