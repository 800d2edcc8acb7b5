package brakes

import (
	"math"

	"chock/brakes/unit"
)

// Pads are the two linings of one wheel: of a disc brake the inner and the
// outer pad, each at its thinnest place.
type Pads struct {
	Thinner   unit.Length // it alone is held against the least thickness
	InnerThin bool        // the thinner one is the inner one
	Apart     unit.Length // inner less outer: negative where the inner is thinner
}

// ReadPads takes the thickness of both linings in m, 0 or more, without their
// steel plates.
//
//	apart = inner - outer
//
// Source: that the thinnest place decides, and that inner and outer are
// compared, is common practice.
func ReadPads(inner, outer unit.Length) (Pads, error) {
	if err := notNegative("inner lining", inner); err != nil {
		return Pads{}, err
	}
	if err := notNegative("outer lining", outer); err != nil {
		return Pads{}, err
	}
	return Pads{min(inner, outer), inner < outer, inner - outer}, nil
}

// A Lining is what readings along one lining say.
type Lining struct {
	Thinnest unit.Length
	At       int         // which reading it is, from 0
	Taper    unit.Length // thickest less thinnest
}

// ReadLining takes thicknesses along one lining in m, from one end to the
// other, without the plate or shoe under it. A place with a bevel is no place
// to measure at.
//
//	taper = thickest - thinnest
//
// One to 36 readings, each 0 or more. Source: the definition is common
// practice.
func ReadLining(along []unit.Length) (Lining, error) {
	t := Round(along...)
	if err := t.check(1); err != nil {
		return Lining{}, err
	}
	for _, v := range along {
		if err := notNegative("lining", v); err != nil {
			return Lining{}, err
		}
	}
	least, largest := t.ends()
	return Lining{least.Value, least.Position, largest.Value - least.Value}, nil
}

// A LiningLife is how far a lining still goes.
type LiningLife struct {
	Rate unit.Ratio  // wear so far over the way it took
	Left unit.Length // the way left at that rate; 0 where there is none
	Low  unit.Length // the same at the fastest wear we count on, and the doubt against it
	High unit.Length // at the slowest, and the doubt for it
	Fast unit.Ratio  // the rate behind Low
}

// ReckonLining works out the way that is left from how thick the lining was
// when new, how thick it is now, and the way in between.
//
//	rate = (new - now) / way
//	left = (now - least) / rate
//	low  = (now - U - least) / fast     fast = larger of f (new - now), new - now + √2 U, over way
//	high = (now + U - least) / slow     slow = (new - now) / f, over way
//
// U is 1.96 u, u the standard uncertainty of one thickness, 0 or more, and f
// is [WearFactor]. Thicknesses and way in m, new more than now, way more than
// 0, least 0 or more. Nothing below 0 is left. Source: linear wear as worked
// examples in trade mathematics have it; the range is our estimate, because
// wear grows with heat, load and hills.
func ReckonLining(fresh, now, least, way, u unit.Length) (LiningLife, error) {
	for _, v := range []struct {
		what string
		v    unit.Length
	}{{"lining now", now}, {"least lining", least}, {"doubt of the lining", u}} {
		if err := notNegative(v.what, v.v); err != nil {
			return LiningLife{}, err
		}
	}
	if err := positive("lining when new", fresh); err != nil {
		return LiningLife{}, err
	}
	if err := positive("distance since it was new", way); err != nil {
		return LiningLife{}, err
	}
	wear := fresh - now
	if !(wear > 0) {
		return LiningLife{}, &OutOfRange{"lining when new", fresh.String(), "more than the " + now.String() + " it has now"}
	}
	guard := times(Safety.Guard(), u)
	factor := float64(WearFactor.Value)
	fast := max(times(factor, wear), wear+times(math.Sqrt2, guard))
	life := LiningLife{
		Rate: unit.Per(wear, way),
		Fast: unit.Per(fast, way),
		Left: lasts(now-least, unit.Per(wear, way)),
		Low:  lasts(now-guard-least, unit.Per(fast, way)),
		High: lasts(now+guard-least, unit.Per(times(1/factor, wear), way)),
	}
	if err := finite("way left", life.High); err != nil {
		return LiningLife{}, err
	}
	return life, nil
}

func lasts(stock unit.Length, rate unit.Ratio) unit.Length {
	return unit.Length(max(0, float64(stock)) / float64(rate))
}

// Trip holds a trip against what is left: Within is enough, TooClose is
// doubtful, Outside is not enough.
//
//	enough      trip <= low:   now - U - fast trip >= least
//	not enough  trip > left:   now - rate trip < least
//
// trip is a way in m, more than 0. Source: our judgement: a lining has to
// prove itself, as at any safety limit.
func (l LiningLife) Trip(trip unit.Length) (unit.Verdict, error) {
	if err := positive("trip", trip); err != nil {
		return unit.NoLimit, err
	}
	switch {
	case trip <= l.Low:
		return unit.Within, nil
	case trip > l.Left:
		return unit.Outside, nil
	}
	return unit.TooClose, nil
}
