package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"chock/brakes"
	"chock/brakes/unit"
	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/record"
	"chock/tree"
)

// figuresOfBook is the table over the embedded book.
func figuresOfBook(t require.TestingT) []figure {
	b, err := tree.Load(bookAt(""), calculations())
	require.NoError(t, err)
	return vehicleFigures(b)
}

// valueOf makes a value that f takes, in the middle of its window.
func valueOf(t require.TestingT, f figure) unit.Any {
	switch {
	case f.words != nil:
		return unit.Word(f.words[0].ID)
	case f.Kind == unit.KindWord:
		return unit.Word("235/75R15")
	case f.Kind == unit.KindCount:
		a, err := unit.Parse(f.Kind, "2", "")
		require.NoError(t, err)
		return a
	}
	return unit.Any{Kind: f.Kind, SI: (f.Low + f.High) / 2}
}

// Every row is whole: worded, with a window that its own units can be typed in.
func TestVehicleFigures(t *testing.T) {
	figures := figuresOfBook(t)
	seen := map[string]bool{}
	for i, f := range figures {
		assert.False(t, seen[f.ID], "%s stands twice", f.ID)
		seen[f.ID] = true
		assert.NotEmpty(t, f.Ask, f.ID)
		assert.NotEmpty(t, f.Why, f.ID)
		assert.NotEmpty(t, f.Steps, f.ID)
		assert.True(t, strings.HasSuffix(f.Ask, "?"), "%s: %s", f.ID, f.Ask)
		if f.Kind == unit.KindWord {
			assert.True(t, f.words != nil || f.check != nil, f.ID)
			continue
		}
		assert.Less(t, f.Low, f.High, f.ID)
		for _, def := range []string{f.US, f.Metric} {
			assert.True(t, unit.Known(f.Kind, def), "%s: %q", f.ID, def)
		}
		slot := vehicleSlots(figures)[i]
		assert.NoError(t, slot.Takes(valueOf(t, f), record.Cast), f.ID)
	}
	for _, id := range []string{"front-rotor-discard", "rear-drum-max", "front-brake", "master-bore", "rear-wheel-cylinder-left", "rear-load-full"} {
		assert.True(t, seen[id], id)
	}
	// What every owner should know comes before what calculations need.
	lastLimit := 0
	for i, f := range figures {
		if f.use == useLimit {
			lastLimit = i
		}
	}
	assert.Less(t, lastLimit, slices.IndexFunc(figures, func(f figure) bool { return f.use == useBuild }))
}

// A typical figure never stands for a wear limit, nor for one that is new to
// the table.
func TestTypicalIsNoLimit(t *testing.T) {
	may := map[string]bool{}
	for _, s := range vehicleSlots(figuresOfBook(t)) {
		may[s.ID] = !s.NoTypical
	}
	for id, want := range map[string]bool{
		"front-rotor-discard": false, "rear-rotor-discard": false, "front-rotor-machine-to": false, "front-drum-max": false,
		"rear-drum-max": false, "front-lining-least": false, "rear-lining-least": false,
		"front-runout-limit": true, "rear-variation-limit": true, "rear-drum-roundness": true,
		"front-rotor-new": true, "rear-wheel-cylinder-left": true, "front-brake": true,
	} {
		assert.Equal(t, want, may[id], id)
	}
	assert.False(t, figure{Figure: tree.Figure{ID: "front-spring-least"}, use: useLimit}.typical(), "one that nobody has thought about")
}

// Every figure of ours, and every one of the book that brakes.Vehicle has room
// for, arrives there, with its value, mark and source.
func TestVehicleOf(t *testing.T) {
	car := &record.Vehicle{Name: "blue", Figures: map[string]record.Figure{}}
	for _, f := range figuresOfBook(t) {
		car.Figures[f.ID] = record.Figure{Value: valueOf(t, f), Source: record.Manual, Note: f.ID}
	}
	// brakes.Vehicle has room for these, though the book does not ask for them.
	for _, id := range []string{"rear-rotor-machine-to", "rear-runout-limit"} {
		if car.Figures[id].Open() {
			car.Figures[id] = record.Figure{Value: unit.Any{Kind: unit.KindLength, SI: 0.01}, Source: record.Manual}
		}
	}
	known := 0
	var count func(v reflect.Value, path string)
	count = func(v reflect.Value, path string) {
		if source := v.FieldByName("Source"); source.IsValid() {
			assert.Equal(t, "manual", source.String(), "%s: no figure comes there", path)
			assert.Equal(t, brakes.Own, v.FieldByName("Mark").Interface(), path)
			assert.False(t, v.FieldByName("Value").IsZero(), path)
			known++
			return
		}
		for i := range v.NumField() {
			if v.Field(i).Kind() == reflect.Struct {
				count(v.Field(i), path+"."+v.Type().Field(i).Name)
			}
		}
	}
	count(reflect.ValueOf(vehicleOf(car)), "Vehicle")
	assert.Greater(t, known, 40)

	car.Figures["front-piston-bore"] = record.Figure{Value: unit.Any{Kind: unit.KindLength, SI: 0.07}, Source: record.Typical}
	got := vehicleOf(car).Front.PistonBore
	assert.Equal(t, brakes.Figure[unit.Length]{Value: 0.07, Mark: brakes.Estimate, Source: record.Typical}, got)
	// Another book's figure of that id may be of another quantity.
	car.Figures["front-piston-bore"] = record.Figure{Value: unit.Any{Kind: unit.KindMass, SI: 1}, Source: record.Cast}
	assert.False(t, vehicleOf(car).Front.PistonBore.Known())
}

// The invented sheets say so, hold no wear limit, and nothing in them is odd.
func TestClassSheets(t *testing.T) {
	assert.Equal(t, []string{"compact", "pickup", "sedan"}, classes())
	figures := figuresOfBook(t)
	for _, class := range classes() {
		sheet, err := classSheet(class, vehicleSlots(figures))
		require.NoError(t, err)
		assert.Contains(t, sheet.Name, "invented")
		assert.Empty(t, vehicleOf(sheet).Oddities(), class)
		c := clerk{figures: figures, car: sheet}
		for _, f := range figures {
			held := sheet.Figures[f.ID]
			if !c.applies(f) {
				assert.True(t, held.Open(), "%s: %s is on no such vehicle", class, f.ID)
				continue
			}
			if strings.HasPrefix(f.ID, "valve-") && held.Open() {
				continue // not every vehicle has one
			}
			assert.Equal(t, f.typical() && (f.use == useBuild || f.words != nil || strings.HasSuffix(f.ID, "-lining-new")), !held.Open(), "%s: %s: all that may be typical, and no more", class, f.ID)
			if !held.Open() {
				assert.Equal(t, record.Typical, held.Source, "%s: %s", class, f.ID)
			}
		}
		data, err := classSheets.ReadFile("class/" + class + ".yaml")
		require.NoError(t, err)
		assert.True(t, strings.HasPrefix(string(data), "#: Invented."), class)
	}
}

func TestCheckTyre(t *testing.T) {
	for _, tt := range []struct {
		size   string
		ok     bool
		source string
	}{
		{"235/75R15", true, "metric size, radial"},
		{"P205/65-15", true, "the same with a dash"},
		{"lt235/85r16", true, "light truck, typed small"},
		{"225/70R19.5", true, "rim of a half inch"},
		{"195/70R15C", true, "commercial"},
		{"31x10.50R15LT", true, "flotation size"},
		{"7.00-15", true, "bias size"},
		{"G78-15", true, "letter size"},
		{"165 R 13", true, "with blanks"},
		{"15", false, "a rim alone"},
		{"235/75", false, "no rim"},
		{"235/75R150", false, "no such rim"},
		{"round", false, "a word"},
		{"", false, "nothing"},
		{"-", false, "nothing"},
		{strings.Repeat("x", 40) + "R15", false, "nothing that fits a sidewall"},
	} {
		assert.NotEmpty(t, tt.source)
		assert.Equal(t, tt.ok, checkTyre(tt.size) == nil, "%q (%s)", tt.size, tt.source)
	}
}

// Whatever is typed, nothing panics, the file is whole after every line, and
// the end of the input is an error that loses nothing.
func TestVehicleSaysAnything(t *testing.T) {
	slots := vehicleSlots(figuresOfBook(t))
	rapid.Check(t, func(r *rapid.T) {
		dir, err := os.MkdirTemp("", "v")
		require.NoError(r, err)
		defer os.RemoveAll(dir)
		file := filepath.Join(dir, "v.yaml")
		line := rapid.OneOf(
			rapid.SampledFrom([]string{"1.12 in cast", "4 manual", "0.5 measured", "11 in typical", "disc", "drum", "none", "vacuum", "one", "235/75R15", "blue pickup",
				"not sure", "later", "back", "change", "why", "steps", "note on the hat", "note", "cast", "manual", "leave-it", "front-brake", "rear-drum-max", "its name", "1", "3", "", "stop now"}),
			rapid.StringN(0, 30, 60),
		)
		args := []string{"vehicle", file}
		if rapid.Bool().Draw(r, "sheet") {
			args = append(args, "--from", rapid.SampledFrom(classes()).Draw(r, "class"))
		}
		for range 2 { // begun, and taken up again
			lines := rapid.SliceOfN(line, 0, 15).Draw(r, "lines")
			var out, errOut bytes.Buffer
			err = run(args, strings.NewReader(strings.Join(lines, "\n")), &out, &errOut)
			args = args[:2]
			if err != nil {
				require.ErrorIs(r, err, ask.ErrEnd)
			}
			car, loadErr := record.LoadVehicle(file, slots)
			if errors.Is(loadErr, os.ErrNotExist) {
				continue // nothing was answered
			}
			require.NoError(r, loadErr)
			for id, f := range car.Figures {
				if i := slices.IndexFunc(slots, func(s record.Slot) bool { return s.ID == id }); !f.Open() {
					require.NoError(r, slots[i].Takes(f.Value, f.Source), id)
				}
			}
		}
	})
}

// A writer that fails never leaves exit status 0, and never a broken file.
func TestVehicleFailingOutput(t *testing.T) {
	slots := vehicleSlots(figuresOfBook(t))
	lines := "blue\ndisc\n1.12 cast\nstop\n"
	for _, prompts := range []bool{true, false} {
		calls := 1
		for at := 0; at < calls; at++ {
			file := filepath.Join(t.TempDir(), "v.yaml")
			var out, errOut io.Writer = io.Discard, io.Discard
			bad := &failing{at: at}
			if at == 0 {
				bad.at = 1 << 30 // first the whole of it, to count
			}
			if prompts {
				errOut = bad
			} else {
				out = bad
			}
			err := run([]string{"vehicle", file}, strings.NewReader(lines), out, errOut)
			if at == 0 {
				require.NoError(t, err)
				calls = bad.calls
				require.Positive(t, calls)
			} else {
				assert.Error(t, err, "call %d of %d", at, calls)
			}
			if _, err := os.Stat(file); err == nil {
				_, err := record.LoadVehicle(file, slots)
				assert.NoError(t, err)
			}
		}
	}
}
