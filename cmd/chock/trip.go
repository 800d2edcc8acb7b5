package main

import (
	"slices"
	"time"

	"chock/cmd/chock/internal/record"
	"chock/tree"
)

// The book's complaint about a trip, and its question when it begins.
const (
	tripComplaint = "long-trip"
	tripLeaves    = "trip-leaves"
)

// tripBegins gives for each answer in how many days the trip begins; -1 where
// no day is fixed.
var tripBegins = map[string]int{"days": 3, "week": 7, "two-weeks": 14, "month": 30, "not-fixed": -1}

// beforeTrip is what "with care" reads where a trip is planned.
const beforeTrip = "repair before leaving"

// forTrip reports whether this is a talk about a trip, and in how many days it
// begins, -1 where nobody said.
func forTrip(w *tree.Walk) (bool, int) {
	if !slices.Contains(w.Complaints, tripComplaint) {
		return false, 0
	}
	if s, said := w.Said(tripLeaves, ""); said && !s.Unsure() {
		if n, known := tripBegins[s.Answers[0]]; known {
			return true, n
		}
	}
	return true, -1
}

// tripDays gives the lists around a trip that begins so many days after today,
// with their dates; -1 leaves the dates to whoever knows the day.
func tripDays(today time.Time, begins int) []record.Day {
	on := func(before int) string {
		day := today.AddDate(0, 0, max(0, begins-before))
		return day.Format("2 January 2006")
	}
	mend, drive, eve, leave, after := "Two weeks before leaving", "One week before leaving", "The day before leaving", "50 miles (80 km) after leaving", "Every morning of the trip"
	switch {
	case begins >= 14:
		mend += ", by " + on(14)
	case begins >= 0:
		mend = "At once, " + on(begins) + ", since two weeks before leaving are past"
	}
	switch {
	case begins >= 7:
		drive += ", by " + on(7)
	case begins >= 0:
		drive = "Before " + on(1) + ", since one week before leaving is past"
	}
	if begins >= 0 {
		eve += ", about " + on(1)
		leave += ", about " + on(0)
		after += ", from about " + on(-1)
	}
	return []record.Day{
		{When: mend, Items: []string{
			"All that stands under what to do is done, and what was not checked is looked at.",
			"Brake fluid is opened now or not at all.",
		}},
		{When: drive, Items: []string{
			"50 to 100 miles (80 to 160 km) have been driven near home, loaded once.",
			"Then wheel nuts, cold, in a star, and a light and a hard hold.",
			"Level against the tape, and dry paper at every place that was opened.",
			"Heat left against right after ten gentle miles (16 km).",
		}},
		{When: eve, Items: []string{
			"Level against the tape, each chamber.",
			"Pressures, cold, for the load, the spare and the trailer as well.",
			"Wheel nuts, cold, and a light and a hard hold once more.",
			"On board: a sealed can of the right fluid, gauge, torque wrench, gloves, light, this record.",
		}},
		{When: leave, Items: []string{
			"Stop early and gently. Look inside each wheel, the back of the hand near each hub.",
			"Wheel nuts once they are cold, and the list for 50 miles above.",
		}},
		{When: after, Items: []string{
			"A glance at the level, and at the ground under it.",
			"One firm press before it moves. It stands where it stood yesterday.",
			"Once round it: tyres, wet places, nuts.",
			"The first stop early and gentle.",
		}},
	}
}
