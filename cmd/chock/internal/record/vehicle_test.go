package record

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"chock/brakes/unit"
)

// testSlots has one slot of each sort.
var testSlots = []Slot{
	{ID: "booster", Kind: unit.KindWord, Words: []string{"none", "vacuum"}, Say: "What helps the foot?", Find: "Look behind the pedal."},
	{ID: "pedal-ratio", Kind: unit.KindRatio, Low: 2, High: 9, Say: "How long is the pedal's lever?", Find: "Measure it."},
	{ID: "front-rotor-discard", Kind: unit.KindLength, Low: 0.005, High: 0.05, NoTypical: true, Say: "What is cast on the rotor?", Find: "Look on the hat."},
	{ID: "front-runout-limit", Kind: unit.KindLength, Low: 12e-6, High: 500e-6, Say: "How far may it swing?", Find: "Look in the manual."},
	{ID: "front-pistons", Kind: unit.KindCount, Low: 1, High: 4, Say: "How many pistons?", Find: "Count."},
	{ID: "rear-tyre", Kind: unit.KindWord, Check: func(s string) error {
		if !strings.ContainsAny(s, "0123456789") {
			return errors.New("a size has digits")
		}
		return nil
	}, Say: "Which tyre?", Find: "Read the sidewall."},
	{ID: "rear-load-empty", Kind: unit.KindMass, Low: 100, High: 5000, Say: "What does it weigh?", Find: "A scale tells."},
}

func held(t require.TestingT, kind unit.Kind, text, def, source, note string) Figure {
	a, err := unit.Parse(kind, text, def)
	require.NoError(t, err)
	return Figure{a, source, note}
}

// The file as a person meets it: what is known, what is open, own comments.
func TestVehicleFile(t *testing.T) {
	v := &Vehicle{Name: "blue pickup", Figures: map[string]Figure{
		"booster":             held(t, unit.KindWord, "vacuum", "", Seen, ""),
		"front-rotor-discard": held(t, unit.KindLength, "1.12", "in", Cast, "hat: inner face, May"),
		"rear-tyre":           held(t, unit.KindWord, "235/75R15", "", Cast, ""),
		"front-pistons":       held(t, unit.KindCount, "1", "", Typical, ""),
		"rear-load-empty":     {Note: "scale was shut"},
	}}
	got := string(encodeVehicle(v, testSlots))
	assert.Regexp(t, `(?s)^#: INVENTED: .*\nschema: 1\n`, got)
	_, body, _ := strings.Cut(got, "schema: 1\n")
	assert.Equal(t, `#: What you call it, in your own words.
vehicle: blue pickup

#: The vehicle as a whole.
whole:
  #: What helps the foot?
  booster:
    value: vacuum
    source: seen
  #: How long is the pedal's lever? Measure it.
  pedal-ratio:

#: The front axle.
front:
  #: What is cast on the rotor?
  rotor-discard:
    value: 1.12 in
    source: cast
    note: "hat: inner face, May"
  #: How far may it swing? Look in the manual.
  runout-limit:
  #: How many pistons?
  pistons:
    value: 1
    source: typical

#: The rear axle.
rear:
  #: Which tyre?
  tyre:
    value: 235/75R15
    source: cast
  #: What does it weigh? A scale tells.
  load-empty:
    note: scale was shut

end: chock
`, body)

	// Own lines stay where they were; chock's are written anew.
	mine := strings.Replace(got, "  #: What is cast on the rotor?", "  #: an older wording\n  # mine, above", 1)
	mine = strings.Replace(mine, "1.12 in\n    source", "1.12 in # behind\n    source", 1)
	mine = strings.Replace(mine, "schema: 1", "# top\n\nschema: 1", 1)
	mine = strings.Replace(mine, "#: The rear axle.", "# after a blank\n\n#: The rear axle.", 1) + "# bottom\n"
	again, err := ParseVehicle("v.yaml", []byte(mine), testSlots)
	require.NoError(t, err)
	out := string(encodeVehicle(again, testSlots))
	assert.NotContains(t, out, "older wording")
	assert.Contains(t, out, "  #: What is cast on the rotor?\n  # mine, above\n  # behind\n  rotor-discard:\n    value: 1.12 in\n")
	assert.Contains(t, out, "# top\nschema: 1\n")
	assert.Contains(t, out, "\n# bottom\nend: chock\n")
	assert.Contains(t, out, "\n# after a blank\nrear:\n")
	third, err := ParseVehicle("v.yaml", []byte(out), testSlots)
	require.NoError(t, err)
	assert.Equal(t, out, string(encodeVehicle(third, testSlots)))

	// With the last typical figure gone, nothing calls the file invented.
	delete(v.Figures, "front-pistons")
	assert.NotContains(t, string(encodeVehicle(v, testSlots)), "INVENTED")
}

// Written by hand, in another order and layout.
func TestVehicleByHand(t *testing.T) {
	v, err := ParseVehicle("v.yaml", []byte("# mine\r\nschema: 1\r\nfront:\r\n  runout-limit: {source: manual, value: '4 thou', note: 5-12}\r\n  rotor-discard:\r\nwhole: {booster: {value: none}}\r\nvehicle: 1971\r\nend: chock\r\n\r\n"), testSlots)
	require.NoError(t, err)
	assert.Equal(t, "1971", v.Name)
	assert.Len(t, v.Figures, 2)
	f := v.Figures["front-runout-limit"]
	assert.Equal(t, "4 thou", f.Value.Text)
	assert.InDelta(t, 4*25.4e-6, f.Value.SI, 1e-12)
	assert.Equal(t, "5-12", f.Note)
	assert.Equal(t, Seen, v.Figures["booster"].Source)
	assert.True(t, v.Figures["rear-tyre"].Open())
}

func TestVehicleRefused(t *testing.T) {
	const head, tail = "schema: 1\nvehicle: blue\n", "end: chock\n"
	front := func(lines string) string { return head + "front:\n" + lines + tail }
	discard := func(lines string) string { return front("  rotor-discard:\n" + lines) }
	for _, tt := range []struct{ name, file, want string }{
		{"empty", " \n", "v.yaml is empty: use an earlier copy, or delete it and begin anew"},
		{"a record", "schema: 1\nprogram: chock 1\n" + tail, "v.yaml is the record of a check, not a vehicle file; name the file that chock vehicle wrote"},
		{"other YAML", "shopping: [milk]\n", "v.yaml is not a vehicle file of chock: it has no line schema: 1; begin one with chock vehicle FILE"},
		{"newer", "schema: 2\ncoils: 4\n", "v.yaml has vehicle schema 2, and this chock reads 1; if a newer chock wrote it, install that one to read it"},
		{"cut short", head + "front:\n", `v.yaml is cut short: its last line is not "end: chock"; use an earlier copy, or, if nothing is missing, add that line`},
		{"control character", head + "# \x1b[2J\n" + tail, "v.yaml:3: a character stands there that cannot be shown (0x1b); type that line anew"},
		{"escaped one", discard("    value: 1.12 in\n    source: cast\n    note: \"\\e[2J\"\n"), "v.yaml:7: front, rotor-discard, note holds a character that cannot be shown; write it in plain letters, on one line"},
		{"not text", head + "\xff\n" + tail, "v.yaml:3: a character stands there that cannot be shown (0xfffd); type that line anew"},
		{"no number", discard("    value: .nan\n    source: cast\n"), "v.yaml:5: .nan is no number"},
		{"NaN", discard("    value: NaN\n    source: cast\n"), `v.yaml:5: front, rotor-discard: "NaN": want a number and a unit, like 0.004 in or 0.1 mm`},
		{"a word", discard("    value: worn\n    source: cast\n"), `v.yaml:5: front, rotor-discard: "worn": want a number and a unit, like 0.004 in or 0.1 mm`},
		{"no unit", discard("    value: 1.12\n    source: cast\n"), `v.yaml:5: front, rotor-discard: "1.12": which unit? one of mm, um, cm, m, km, in, thou, ft, mi`},
		{"wrong unit", discard("    value: 30 psi\n    source: cast\n"), `v.yaml:5: front, rotor-discard: "30 psi": unit "psi" is not one of mm, um, cm, m, km, in, thou, ft, mi`},
		{"implausible", discard("    value: 1.12 mm\n    source: cast\n"), "v.yaml:5: front, rotor-discard: 1.12 mm is outside 5 to 50 mm; did you mean 1.12 in or 1.12 cm?"},
		{"typical wear limit", discard("    value: 1.12 in\n    source: typical\n"), "v.yaml:6: front, rotor-discard: a typical figure cannot stand for a wear limit, which belongs to the part alone: give the figure cast on it or the manual's, or leave it open"},
		{"source of no kind", discard("    value: 1.12 in\n    source: hearsay\n"), `v.yaml:6: front, rotor-discard: source is "hearsay"; want one of cast, manual, measured`},
		{"a number seen", front("  runout-limit:\n    value: 4 thou\n    source: seen\n"), `v.yaml:6: front, runout-limit: source is "seen"; want one of cast, manual, measured, typical`},
		{"no source", discard("    value: 1.12 in\n"), "v.yaml:5: front, rotor-discard: a value without its source; add source: cast, manual, measured or typical"},
		{"no value", discard("    source: cast\n"), "v.yaml:5: front, rotor-discard: a source without a value; give the value, or take the source out"},
		{"one line", front("  rotor-discard: 1.12 in cast\n"), "v.yaml:4: front, rotor-discard: want two lines below it, like value: 1.12 in and source: cast"},
		{"unknown key", head + "colour: blue\n" + tail, `v.yaml:3: "colour" has no place there; the file takes schema, vehicle, whole, front, rear, end`},
		{"unknown figure", front("  rotor-discrad:\n"), `v.yaml:4: front takes no figure "rotor-discrad"; it takes rotor-discard, runout-limit, pistons`},
		{"another axle's", head + "rear:\n  rotor-discard:\n" + tail, `v.yaml:4: rear takes no figure "rotor-discard"; it takes tyre, load-empty`},
		{"unknown part", discard("    value: 1.12 in\n    page: 5\n"), `v.yaml:6: front, rotor-discard: "page" has no place there; a figure takes value, source and note; a comma inside {} parts entries, so quote words that have one`},
		{"comma", front("  rotor-discard: {value: 1.12 in, source: cast, note: hat, inside}\n"), `v.yaml:4: front, rotor-discard: "inside" has no place there; a figure takes value, source and note; a comma inside {} parts entries, so quote words that have one`},
		{"decimal comma", discard("    value: 28,450 mm\n    source: cast\n"), `v.yaml:5: front, rotor-discard: "28,450 mm": the comma can be read two ways: write 28450, or 28.450`},
		{"other word", head + "whole:\n  booster:\n    value: steam\n" + tail, `v.yaml:5: whole, booster: "steam" is none of none, vacuum`},
		{"checked word", head + "rear:\n  tyre:\n    value: round\n" + tail, `v.yaml:5: rear, tyre: a size has digits`},
		{"half a piston", front("  pistons:\n    value: 1.5\n    source: seen\n"), `v.yaml:5: front, pistons: "1.5": want a whole number, like 5`},
		{"a list", head + "front: [a]\n" + tail, "v.yaml:3: front: want figures below it, each with its name"},
		{"list for a word", "schema: 1\nvehicle: [a]\n" + tail, "v.yaml:2: vehicle: want it in one line"},
		{"long name", "schema: 1\nvehicle: " + strings.Repeat("x", 81) + "\n" + tail, "v.yaml:2: vehicle is longer than 80 letters; shorten it"},
		{"repeated", front("  pistons:\n  pistons:\n"), `v.yaml:5: "pistons" stands at line 4 already; keep one of them`},
		{"alias", head + "front: &a\nrear: *a\n" + tail, "v.yaml:3: &a is an anchor; leave it out"},
		{"merge", head + "front:\n  <<: {pistons: }\n" + tail, "v.yaml:4: << is a merge key; write it out"},
		{"tag", discard("    value: !!binary eA==\n"), "v.yaml:5: !!binary is a tag; leave it out"},
		{"two documents", head + "---\n" + tail, "v.yaml holds several documents; keep one of them"},
		{"tab", head + "front:\n\tpistons:\n" + tail, "v.yaml:4: not readable as YAML: found character that cannot start any token; put that line right in an editor"},
		{"broken YAML", head + "front: [\n" + tail, "v.yaml:3: not readable as YAML: did not find expected ',' or ']'; put that line right in an editor"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			v, err := ParseVehicle("v.yaml", []byte(tt.file), testSlots)
			assert.EqualError(t, err, tt.want)
			assert.Nil(t, v)
		})
	}

	dir := t.TempDir()
	_, err := LoadVehicle(dir, testSlots)
	assert.EqualError(t, err, dir+" is a folder; name the file in it")
	_, err = LoadVehicle(filepath.Join(dir, "none.yaml"), testSlots)
	assert.ErrorIs(t, err, os.ErrNotExist)
	big := filepath.Join(dir, "big.yaml")
	require.NoError(t, os.WriteFile(big, make([]byte, 2<<20), 0o600))
	_, err = LoadVehicle(big, testSlots)
	assert.EqualError(t, err, big+" is over 1 MB, and a file of chock is far smaller; is it the right one?")
	_, _, err = OpenVehicle(big, testSlots)
	assert.Error(t, err)
	info, err := os.Stat(big)
	require.NoError(t, err)
	assert.EqualValues(t, 2<<20, info.Size(), "what is refused is left alone")
}

// Cut at any byte, a file is refused, or nothing but its last line break is
// missing.
func TestVehicleCutShort(t *testing.T) {
	whole := encodeVehicle(&Vehicle{Name: "blue", Figures: map[string]Figure{
		"front-rotor-discard": held(t, unit.KindLength, "28.45 mm", "", Cast, "hat"),
		"rear-tyre":           held(t, unit.KindWord, "235/75R15", "", Seen, ""),
	}}, testSlots)
	for n := range whole {
		v, err := ParseVehicle("v.yaml", whole[:n], testSlots)
		if err == nil {
			require.Equal(t, len(whole)-1, n)
			require.Len(t, v.Figures, 2)
		}
	}
}

func drawnVehicle(t *rapid.T) *Vehicle {
	text := rapid.Custom(func(t *rapid.T) string {
		s := rapid.OneOf(
			rapid.StringOf(rapid.SampledFrom([]rune("ab #:-'\"\\%@`|>é{}[],&*!?~1.5"))),
			rapid.SampledFrom([]string{"", "yes", "null", "~", "012", "1e3", "0x10", "end: chock", "---", "...", "2026-11-25", "<<", "=", "- a", "1:2", ".nan", "#: a", "!!binary eA=="}),
		).Draw(t, "text")
		return strings.Join(strings.Fields(s), " ")
	})
	v := &Vehicle{Name: text.Draw(t, "name"), Figures: map[string]Figure{}, comments: map[string][]string{}}
	for _, s := range testSlots {
		section, name := s.place()
		for range rapid.IntRange(0, 2).Draw(t, "comments") {
			v.comments[section+" "+name] = append(v.comments[section+" "+name], strings.TrimSpace("# "+text.Draw(t, "comment")))
		}
		var f Figure
		if rapid.Bool().Draw(t, "known") {
			var texts []string
			switch {
			case s.Words != nil:
				texts = s.Words
			case s.Check != nil:
				texts = []string{"235/75R15", "G78-15", "7.00-15"}
			case s.ID == "front-rotor-discard":
				texts = []string{"1.12 in", `1 1/8"`, "1-1/16 in", "28,45 mm", "28.45mm", ".95\""}
			case s.ID == "front-runout-limit":
				texts = []string{"4 thou", ".004\"", "0,1 mm"}
			case s.Kind == unit.KindMass:
				texts = []string{"2600 lb", "1180 kg"}
			case s.Kind == unit.KindRatio:
				texts = []string{"4.5", "6:1", "450 %"}
			default:
				texts = []string{"1", "2"}
			}
			sources := []string{Cast, Manual, Measured}
			if !s.NoTypical {
				sources = append(sources, Typical)
			}
			f = held(t, s.Kind, rapid.SampledFrom(texts).Draw(t, "value"), "", rapid.SampledFrom(sources).Draw(t, "source"), "")
		}
		if f.Note = text.Draw(t, "note"); f != (Figure{}) {
			v.Figures[s.ID] = f
		}
	}
	return v
}

// What is written reads the same, and is written the same again.
func TestVehicleRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawnVehicle(t)
		data := encodeVehicle(v, testSlots)
		got, err := ParseVehicle("v.yaml", data, testSlots)
		require.NoError(t, err, string(data))
		require.Equal(t, v.Name, got.Name)
		require.Equal(t, v.Figures, got.Figures, string(data))
		require.Equal(t, string(data), string(encodeVehicle(got, testSlots)))
	})
}

func TestVehicleSave(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "v.yaml")
	f, v, err := OpenVehicle(path, testSlots)
	require.NoError(t, err)
	assert.Nil(t, v)
	assert.NoFileExists(t, path)
	v = &Vehicle{Name: "one"}
	moved, err := f.SaveVehicle(v, testSlots)
	require.NoError(t, err)
	assert.Empty(t, moved)
	assert.Equal(t, os.FileMode(0o600), mode(t, path))

	f, v, err = OpenVehicle(path, testSlots)
	require.NoError(t, err)
	assert.Equal(t, "one", v.Name)
	// Somebody edits it meanwhile: theirs stays.
	theirs := []byte("schema: 1\nvehicle: two\nend: chock\n")
	require.NoError(t, os.WriteFile(path, theirs, 0o600))
	v.Name = "three"
	moved, err = f.SaveVehicle(v, testSlots)
	require.NoError(t, err)
	assert.Equal(t, filepath.Join(dir, "v-2.yaml"), moved)
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(theirs), string(now))
	got, err := LoadVehicle(moved, testSlots)
	require.NoError(t, err)
	assert.Equal(t, "three", got.Name)
}

func FuzzVehicle(f *testing.F) {
	whole := encodeVehicle(&Vehicle{Name: "blue", Figures: map[string]Figure{
		"front-rotor-discard": held(f, unit.KindLength, "1.12", "in", Cast, "hat: inside"),
		"booster":             held(f, unit.KindWord, "vacuum", "", Typical, ""),
	}}, testSlots)
	f.Add(whole)
	f.Add([]byte("# mine\n\nschema: 1\nfront: {runout-limit: {value: .004\", source: manual}} # x\n# y\nend: chock\n# z"))
	f.Fuzz(func(t *testing.T, data []byte) {
		v, err := ParseVehicle("v.yaml", data, testSlots)
		if err != nil {
			require.Nil(t, v)
			return
		}
		out := encodeVehicle(v, testSlots)
		again, err := ParseVehicle("v.yaml", out, testSlots)
		require.NoError(t, err, string(out))
		require.Equal(t, v.Name, again.Name)
		require.Equal(t, v.Figures, again.Figures)
		require.Equal(t, string(out), string(encodeVehicle(again, testSlots)), "own comments stay where they are")
	})
}
