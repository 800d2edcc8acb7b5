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
// Both are 0 or more, and one of them is more than 0. Source: the rules that
// [ImbalanceRules] names for the first two; the third is in use beside them.
func CompareSides[Q ~float64](left, right Q) (Imbalance, error) {
	if err := notNegative("left side", left); err != nil {
		return Imbalance{}, err
	}
	if err := notNegative("right side", right); err != nil {
		return Imbalance{}, err
	}
	if left == 0 && right == 0 {
		return Imbalance{}, &OutOfRange{"force on both sides", "0", "more than 0 on one of them"}
	}
	// Over the higher first, so that no sum is too large for a float64.
	h := float64(max(left, right))
	l := float64(min(left, right)) / h
	i := Imbalance{OfHigher: unit.Ratio(1 - l), OfLower: unit.Ratio(math.Inf(1)), OfMean: unit.Ratio(2 * (1 - l) / (1 + l))}
	if l > 0 {
		i.OfLower = unit.Ratio((1 - l) / l)
	}
	switch {
	case left > right:
		i.Left = 1
	case left < right:
		i.Left = -1
	}
	return i, nil
}

// ImbalanceDoubt is the standard uncertainty of an imbalance over the higher,
// where each of the two sides is known with standard uncertainty u.
//
//	u(I) = u/H sqrt(1 + (L/H)²)
//
// Both sides and u as for [CompareSides], the higher more than 0. Source: law
// of propagation, JCGM 100:2008 (GUM) 5.1.2, for (H - L)/H.
func ImbalanceDoubt[Q ~float64](left, right, u Q) unit.Ratio {
	h, l := float64(max(left, right)), float64(min(left, right))
	return unit.Ratio(float64(u) / h * math.Hypot(1, l/h))
}

// A Base is what a rule counts an imbalance over.
type Base int

// The higher of the two sides, or the lower.
const (
	OverHigher Base = iota
	OverLower
)

func (b Base) String() string {
	if b == OverLower {
		return "lower"
	}
	return "higher"
}

// An ImbalanceRule is a published rule for the brake forces of one axle on a
// tester. It is broken by an imbalance of more than Most; Most itself is let
// pass. It does not apply while the higher force is no more than Ignored, nor
// where the lower side is a locked wheel and LockedExcused is set.
type ImbalanceRule struct {
	ID            string
	Say           string // whose rule, and what it calls an axle that breaks it
	Base          Base
	Most          Figure[unit.Ratio]
	Steered       bool // only for an axle that steers
	Ignored       Figure[unit.Force]
	LockedExcused bool
}

// ImbalanceRules lists the rules.
func ImbalanceRules() []ImbalanceRule {
	return []ImbalanceRule{
		{ID: "uk-major", Say: "UK MOT, a major defect", Base: OverHigher, Most: ImbalanceMajor, Ignored: ImbalanceIgnored, LockedExcused: true},
		{ID: "uk-dangerous", Say: "UK MOT, dangerous on an axle that steers", Base: OverHigher, Most: ImbalanceDangerous, Steered: true, Ignored: ImbalanceIgnored, LockedExcused: true},
		{ID: "us-in-use", Say: "US in-use standard", Base: OverLower, Most: ImbalanceInUse},
	}
}

// Of is the imbalance as this rule counts it.
func (r ImbalanceRule) Of(i Imbalance) unit.Ratio {
	if r.Base == OverLower {
		return i.OfLower
	}
	return i.OfHigher
}

// Applies reports whether the rule says anything about an axle with these
// forces. locked says that the lower side is a wheel that locked: it shows
// what the tyre holds, not what the brake can.
func (r ImbalanceRule) Applies(higher unit.Force, steered, locked bool) bool {
	return (steered || !r.Steered) && !(locked && r.LockedExcused) &&
		// What rounding alone lifts over the line counts as on it.
		(r.Ignored.Value == 0 || float64(higher) > float64(r.Ignored.Value)*(1+1e-9))
}

// Broken reports whether an imbalance is more than the rule lets pass.
func (r ImbalanceRule) Broken(i Imbalance) bool {
	return float64(r.Of(i)) > float64(r.Most.Value)*(1+1e-9)
}
