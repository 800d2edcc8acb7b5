package main

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/tree"
)

// What the program says of a trip rests on names of the book.
func TestTripIsInTheBook(t *testing.T) {
	b := loadBook(t)
	require.NotNil(t, b.Complaint(tripComplaint))
	require.NotNil(t, b.Checks[tripLeaves])
	var ids []string
	for _, a := range b.Checks[tripLeaves].Answers {
		ids = append(ids, a.ID)
	}
	assert.ElementsMatch(t, sortedKeys(tripBegins), ids)

	said := func(answer string) *tree.Walk {
		return b.Walk([]string{tripComplaint}, []tree.Said{{Check: tripLeaves, Answers: []string{answer}}})
	}
	for _, row := range []struct {
		answer string
		begins int
	}{{"days", 3}, {"month", 30}, {"not-fixed", -1}, {tree.Unsure, -1}} {
		trip, begins := forTrip(said(row.answer))
		assert.True(t, trip)
		assert.Equal(t, row.begins, begins, row.answer)
	}
	trip, _ := forTrip(b.Walk([]string{"dust"}, []tree.Said{{Check: tripLeaves, Answers: []string{"week"}}}))
	assert.False(t, trip, "another complaint")
}

func TestTripDays(t *testing.T) {
	today := time.Date(2024, 2, 20, 23, 30, 0, 0, time.UTC)
	when := func(begins int) (out []string) {
		for _, d := range tripDays(today, begins) {
			out = append(out, d.When)
			assert.NotEmpty(t, d.Items, d.When)
		}
		return out
	}
	assert.Equal(t, []string{
		"Two weeks before leaving, by 7 March 2024", "One week before leaving, by 14 March 2024", "The day before leaving, about 20 March 2024",
		"50 miles (80 km) after leaving, about 21 March 2024", "Every morning of the trip, from about 22 March 2024",
	}, when(30))
	assert.Equal(t, "Two weeks before leaving, by 20 February 2024", when(14)[0])
	assert.Equal(t, []string{
		"At once, 20 February 2024, since two weeks before leaving are past", "Before 22 February 2024, since one week before leaving is past",
		"The day before leaving, about 22 February 2024", "50 miles (80 km) after leaving, about 23 February 2024", "Every morning of the trip, from about 24 February 2024",
	}, when(3))
	assert.Equal(t, "One week before leaving, by 20 February 2024", when(7)[1])
	assert.Equal(t, []string{
		"Two weeks before leaving", "One week before leaving", "The day before leaving", "50 miles (80 km) after leaving", "Every morning of the trip",
	}, when(-1))
}
