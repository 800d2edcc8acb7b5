package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// A Mark says how far a figure can be trusted. It is shown beside the figure.
type Mark string

// The marks, best first.
const (
	Published Mark = "published"       // document, section and year are named
	Practice  Mark = "common practice" // a fact of the trade, without a source
	Memory    Mark = "from memory"     // published, but not read again for this
	Estimate  Mark = "our estimate"
)

// A Figure is a number that comes from outside the calculation.
type Figure[Q ~float64] struct {
	Value  Q
	Mark   Mark
	Source string // document, section, year; or why we chose it
	Scope  string // what it is for, so that nobody uses it elsewhere
}

// OutOfRange reports input for which a formula does not hold.
type OutOfRange struct {
	Quantity string // as the person would name it
	Got      string // with its unit
	Want     string
}

func (e *OutOfRange) Error() string {
	return fmt.Sprintf("%s is %s, want %s", e.Quantity, e.Got, e.Want)
}

// times is a number of q.
func times[Q ~float64](n float64, q Q) Q { return Q(n * float64(q)) }

// finite refuses NaN and infinity.
func finite[Q ~float64](quantity string, v Q) error {
	if f := float64(v); math.IsNaN(f) || math.IsInf(f, 0) {
		return &OutOfRange{quantity, fmt.Sprint(f), "a number"}
	}
	return nil
}

// above refuses what is not more than least, NaN and infinity among it.
func above[Q ~float64](quantity string, q, least Q) error {
	if err := finite(quantity, q); err != nil {
		return err
	}
	if !(q > least) {
		return &OutOfRange{quantity, fmt.Sprint(q), "more than " + fmt.Sprint(float64(least))}
	}
	return nil
}

// positive refuses what is not more than zero.
func positive(quantity string, v unit.Length) error { return above(quantity, v, 0) }

// notNegative refuses what is less than zero, NaN and infinity among it.
func notNegative[Q ~float64](quantity string, q Q) error {
	if err := finite(quantity, q); err != nil {
		return err
	}
	if q < 0 {
		return &OutOfRange{quantity, fmt.Sprint(q), "0 or more"}
	}
	return nil
}
