//go:build unix && !race

package main

// Left out under -race as tty_test.go is.

import (
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/cmd/chock/internal/record"
)

// The figures of a vehicle asked on a terminal, at three widths: a list, a line
// that is put right, the origin from a list, back, a sheet's figure; then
// Ctrl-C, which saves.
func TestTerminalVehicle(t *testing.T) {
	slots := vehicleSlots(figuresOfBook(t))
	for _, cols := range []int{40, 60, 80} {
		t.Run(strconv.Itoa(cols), func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "v.yaml")
			p := startTTY(t, cols, "vehicle", file)
			p.shows("What do you call this vehicle?")
			p.send("blue pickup\r")
			p.shows("n not sure")
			p.once("Which brakes are on the front axle?", "1 Disc", "2 Drum", "m more")
			p.never("▸")
			p.send("ms") // steps, through more
			p.shows("a closed iron pot is a drum")
			p.send("1\r")
			p.shows("= Disc")
			p.shows("in>")
			p.send("1.12 mm\r")
			p.shows("did you mean 1.12 in")
			p.send("\x151.12 in\r")
			p.shows("Where is that figure from?")
			p.once("1 Cast or stamped on the part", "3 Measured")
			p.never("4 Typical") // not for a wear limit
			p.send("mb")         // back, to the figure itself
			p.shows("= back")
			p.send("1.12 in cast\r")
			p.shows("Taken: 1.12 in (28.448 mm), cast")
			p.send("not sure\r")
			p.shows("Left open.")
			p.send("change\r")
			p.shows("3 front rotor discard: 1.12 in (28.448 mm), cast")
			p.send("\x03")
			assert.Nil(t, p.ends(130))
			assert.Contains(t, p.words(), "chock vehicle /")
			car, err := record.LoadVehicle(file, slots)
			require.NoError(t, err)
			assert.Equal(t, "blue pickup", car.Name)
			assert.Equal(t, "1.12 in", car.Figures["front-rotor-discard"].Value.Text)
			assert.Equal(t, "cast", car.Figures["front-rotor-discard"].Source)
			assert.Len(t, car.Figures, 2)
		})
	}
}

// A sheet on a narrow terminal: what stands is listed, and the up arrow brings
// a typical figure back to be put right.
func TestTerminalVehicleFromClass(t *testing.T) {
	file := filepath.Join(t.TempDir(), "v.yaml")
	p := startTTY(t, 40, "vehicle", file, "--from", "compact")
	p.shows("What do you call this vehicle?")
	p.once("was: an invented small car")
	p.send("red car\rn")
	p.shows("= not sure")
	p.shows("Left at disc, typical.")
	p.send("stop\r")
	assert.Nil(t, p.ends(0))
	assert.Contains(t, p.words(), "Red car 0 known, 35 typical, ")
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Contains(t, string(data), "#: INVENTED: ")
}
