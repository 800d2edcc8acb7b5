package brakes

import (
	"math"

	"chock/brakes/unit"
)

// A Side says on which side of a limit a part is sound.
type Side int

// The zero Side is no limit at all, so that the zero [Limit] means "unknown".
const (
	Unknown Side = iota
	Least        // the part must have at least this: a rotor's thickness
	Most         // at most this: runout, a drum's diameter
)

// A Limit is what a value is held against. Low and High are the same number,
// unless published limits for the same thing differ and we hold against their
// range: then the good end decides "within" and the other one "outside".
type Limit[Q ~float64] struct {
	Side      Side
	Low, High Q
}

// AtLeast is the limit of a part that must have at least q.
func AtLeast[Q ~float64](q Q) Limit[Q] { return Limit[Q]{Least, q, q} }

// AtMost is the limit of a part that may have at most q.
func AtMost[Q ~float64](q Q) Limit[Q] { return Limit[Q]{Most, q, q} }

// AtMostRange is good up to low and bad beyond high.
func AtMostRange[Q ~float64](low, high Q) Limit[Q] { return Limit[Q]{Most, low, high} }

// A Kind of limit says who has to prove what.
type Kind int

const (
	// Safety is a limit that keeps a part from failing: discard thickness,
	// the largest drum. The part has to prove itself.
	Safety Kind = iota
	// Comfort is a limit on what can be felt: runout, variation.
	Comfort
)

// Guard is how many standard uncertainties must lie between a value and a
// limit before the one is called inside the other.
//
//	Safety   1.96: one chance in forty that it is outside after all
//	Comfort  1.64: one in twenty, on either side
//
// Source: one-sided chance of conforming, Phi((x - L)/u), JCGM 106:2012; the
// two quantiles of the normal distribution are rounded as there.
func (k Kind) Guard() float64 { return float64(k.band().In) }

// Judge holds value x, known with standard uncertainty u, against a limit L.
// With the side that is sound taken as positive:
//
//	safety   within   x - L >= 1.96 u
//	         outside  x - L < 0        (no benefit of the doubt)
//	comfort  within   x - L >= 1.64 u
//	         outside  x - L < -1.64 u
//
// and "too close to call" between. Without a limit the verdict is NoLimit. x,
// u and L are in one unit; u is 0 or more.
//
// Source: three-way decision after ILAC-G8:09/2019 section 4.2.3 and JCGM
// 106:2012; that a safety limit gives no benefit of the doubt is ours.
func Judge[Q ~float64](x, u Q, limit Limit[Q], kind Kind) (unit.Verdict, error) {
	return JudgeBy(x, u, limit, kind.band())
}

// A Gauge is what is known of the instrument behind some readings, in the
// unit of the readings.
type Gauge[Q ~float64] struct {
	Step    Q   // one count of what was read
	Error   Q   // how far the gauge may be off: plus or minus this
	Scatter Q   // standard deviation of reading one place again
	Repeats int // readings averaged into each value; 0 counts as 1
}

// Noise is what varies from one reading to the next.
//
//	sqrt(q²/12 + s²/n)    q step, s scatter, n repeats
//
// Source: JCGM 100:2008 (GUM) F.2.2.1 for the step; NIST TN 1297 section 3.
func (g Gauge[Q]) Noise() Q {
	q, s, n := float64(g.Step), float64(g.Scatter), float64(max(g.Repeats, 1))
	return Q(math.Sqrt(q*q/12 + s*s/n))
}

// Doubt is the standard uncertainty of one value.
//
//	u² = q²/12 + e²/3 + s²/n + placement²    e error limit of the gauge
//
// Placement is the standard uncertainty from where the gauge was put.
//
// Source: JCGM 100:2008 (GUM) 4.3.7 and F.2.2.1; NIST TN 1297 (1994) section
// 4 for the rectangular limit e.
func (g Gauge[Q]) Doubt(placement Q) Q {
	n, e, p := float64(g.Noise()), float64(g.Error), float64(placement)
	return Q(math.Sqrt(n*n + e*e/3 + p*p))
}

// DifferenceDoubt is the standard uncertainty of one reading less another
// with the same gauge. The two are counted as independent.
//
//	u² = 2 (q²/12 + e²/3 + s²/n) + placement²
//
// Source: as [Gauge.Doubt].
func (g Gauge[Q]) DifferenceDoubt(placement Q) Q {
	one, p := float64(g.Doubt(0)), float64(placement)
	return Q(math.Sqrt(2*one*one + p*p))
}
