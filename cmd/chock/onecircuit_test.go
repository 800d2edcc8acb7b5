package main

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/brakes/unit"
	"chock/cmd/chock/internal/record"
	"chock/tree"
	"chock/tree/book"
)

// The causes behind which a circuit may be gone are causes of our book, and
// each of them says stop.
func TestCircuitCausesAreInTheBook(t *testing.T) {
	b, err := tree.Load(book.FS, calculations())
	require.NoError(t, err)
	for _, id := range circuitCauses {
		i := slices.IndexFunc(b.Causes, func(c *tree.Cause) bool { return c.ID == id })
		require.GreaterOrEqual(t, i, 0, id)
		assert.Equal(t, tree.Stop, b.Causes[i].Drive, id)
	}
	for _, id := range []string{"us-135-cold", "us-135-circuit"} {
		_, _, err := circuitDistance(id, 30*unit.MetrePerSecond)
		assert.NoError(t, err)
	}
}

// What the vehicle file does not know is not made up.
func TestCircuitShares(t *testing.T) {
	assert.Empty(t, circuitShares(nil))
	b, err := tree.Load(book.FS, calculations())
	require.NoError(t, err)
	slots := vehicleSlots(vehicleFigures(b))
	for _, class := range classes() {
		car, err := classSheet(class, slots)
		require.NoError(t, err)
		say := circuitShares(car)
		switch class {
		case "pickup":
			assert.Contains(t, say, "it takes 2.", class) // the rear alone
		case "compact":
			assert.Contains(t, say, "it takes 2.", class)
		case "sedan": // one circuit
			assert.Empty(t, say, class)
		}
		assert.False(t, strings.Contains(say, "safe"))
		car.Figures["centre-height"] = record.Figure{}
		assert.Empty(t, circuitShares(car), class)
	}
}
