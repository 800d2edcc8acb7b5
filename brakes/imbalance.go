package brakes

import (
	"math"

	"chock/brakes/unit"
)

// An Imbalance is by how much two sides of an axle differ, by each definition
// in use. They are different numbers, so whoever prints one names it.
type Imbalance struct {
	Left     int        // 1 where the left has more, -1 where the right has, 0 where they are equal
	OfHigher unit.Ratio // (H - L)/H
	OfLower  unit.Ratio // (H - L)/L, infinite where L is 0
	OfMean   unit.Ratio // (H - L)/((H + L)/2)
}

// CompareSides gives the imbalance of two amounts of one kind: brake forces,
// piston areas. H is the higher and L the lower of the two.
//
//	of the higher  (H - L)/H          0 to 1
//	of the lower   (H - L)/L          0 and up
//	of the mean    2 (H - L)/(H + L)  0 to 2
//
// Both are 0 or more, and one of them is more than 0. Source: UK MOT
// inspection manual, section 1.2, for the first; 49 CFR 570.5 compares with
// "the other wheel", which its strictest reading takes for the lower one.
func CompareSides[Q ~float64](left, right Q) (Imbalance, error) {
	for _, v := range []struct {
		what string
		q    Q
	}{{"left side", left}, {"right side", right}} {
		if err := finite(v.what, v.q); err != nil {
			return Imbalance{}, err
		}
		if v.q < 0 {
			return Imbalance{}, &OutOfRange{v.what, shown(v.q), "0 or more"}
		}
	}
	h, l := float64(max(left, right)), float64(min(left, right))
	if h == 0 {
		return Imbalance{}, &OutOfRange{"both sides", shown(left), "more than 0 on one of them"}
	}
	i := Imbalance{OfHigher: unit.Ratio((h - l) / h), OfLower: unit.Ratio(math.Inf(1)), OfMean: unit.Ratio(2 * (h - l) / (h + l))}
	if l > 0 {
		i.OfLower = unit.Ratio((h - l) / l)
	}
	switch {
	case left > right:
		i.Left = 1
	case left < right:
		i.Left = -1
	}
	return i, nil
}

// shown is q in both systems, for a message.
func shown[Q ~float64](q Q) string { return unit.Of(unit.Reading[Q]{Value: q}).Both() }
