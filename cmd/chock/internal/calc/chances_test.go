package calc

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/brakes/unit"
)

// The chance of each outcome follows the doubt of the reading.
func TestChances(t *testing.T) {
	read := func(name string, in ...string) (Calculation, Result) {
		c, ok := Find(name)
		require.True(t, ok)
		given := map[string][]unit.Any{}
		for i := 0; i < len(in); i += 2 {
			input, ok := c.Input(in[i])
			require.True(t, ok, in[i])
			v, err := input.Read(in[i+1], "mm")
			require.NoError(t, err)
			given[in[i]] = v
		}
		r, err := c.Run(given)
		require.NoError(t, err)
		return c, r
	}
	for _, row := range []struct {
		name, thickness, discard, outcome string
		below                             [2]float64
		source                            string
	}{
		{"far above", "24.40 24.41 24.40 24.42 24.41 24.40 24.41 24.40", "22", "above-discard", [2]float64{0, 0.002}, "by hand: 2.4 mm over a doubt of hundredths"},
		{"far below", "21.40 21.41 21.40 21.42 21.41 21.40 21.41 21.40", "22", "below-discard", [2]float64{0.998, 1}, "by hand: 0.6 mm under it"},
		{"at the limit", "22.00 22.01 22.00 22.02 22.01 22.00 22.01 22.00", "22", "discard-too-close", [2]float64{0.45, 0.55}, "by hand: half on either side"},
	} {
		t.Run(row.name, func(t *testing.T) {
			require.NotEmpty(t, row.source)
			c, r := read("rotor-thickness", "thickness", row.thickness, "discard", row.discard)
			require.Contains(t, r.Outcomes, row.outcome)
			got := c.Chances(r)
			assert.GreaterOrEqual(t, got["below-discard"], row.below[0])
			assert.LessOrEqual(t, got["below-discard"], row.below[1])
			assert.InDelta(t, 1, got["below-discard"]+got["above-discard"], 1e-12)
			assert.InDelta(t, 1, got["varies"]+got["even"], 1e-12, "a typical range has its chance too")
		})
	}
	c, r := read("rotor-thickness", "thickness", "24.40 24.41 24.40 24.42 24.41 24.40 24.41 24.40")
	_, known := c.Chances(r)["below-discard"]
	assert.False(t, known, "no limit known, no chance")
}
