package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// Conforms is the chance that a part is on the sound side of a limit L, when
// the value x was read for it with standard uncertainty u.
//
//	at least L   Φ((x - L)/u)
//	at most L    Φ((L - x)/u)
//
// Φ is the normal distribution. Without any doubt, u = 0, it is 1 where the
// value meets the limit and 0 where it does not. x, u and L are in one unit, u
// is 0 or more. A limit that is a range is refused, and so is an unknown one:
// ask for each end by itself. That the readings are normal about the truth is
// an assumption; where the step of the gauge is most of u, the chance is a
// guide and no more.
//
// Source: JCGM 106:2012, 7.3, one-sided tolerance interval (from memory).
func Conforms[Q ~float64](x, u Q, limit Limit[Q]) (unit.Ratio, error) {
	room, err := roomTo(x, u, limit)
	if err != nil {
		return 0, err
	}
	if limit.Low != limit.High {
		return 0, &OutOfRange{"limit", fmt.Sprintf("%v to %v", float64(limit.Low), float64(limit.High)), "one number"}
	}
	if u == 0 {
		if room.good >= 0 {
			return 1, nil
		}
		return 0, nil
	}
	return unit.Ratio(normal(float64(room.good) / float64(u))), nil
}

// normal is the normal distribution: the chance of a value up to z.
func normal(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// A room is how far a value stands inside the two ends of a limit: the good
// one, up to which it is within, and the bad one, past which it is outside.
type room[Q ~float64] struct{ good, bad Q }

// roomTo checks a value, its doubt and a known limit.
func roomTo[Q ~float64](x, u Q, limit Limit[Q]) (room[Q], error) {
	if err := finite("value", x); err != nil {
		return room[Q]{}, err
	}
	if err := notNegative("doubt", u); err != nil {
		return room[Q]{}, err
	}
	for _, end := range []Q{limit.Low, limit.High} {
		if err := finite("limit", end); err != nil {
			return room[Q]{}, err
		}
	}
	if !(limit.Low <= limit.High) {
		return room[Q]{}, &OutOfRange{"limit", fmt.Sprintf("%v to %v", float64(limit.Low), float64(limit.High)), "the smaller first"}
	}
	switch limit.Side {
	case Least:
		return room[Q]{x - limit.High, x - limit.Low}, nil
	case Most:
		return room[Q]{limit.Low - x, limit.High - x}, nil
	}
	return room[Q]{}, &OutOfRange{"limit", "not known", "a limit"}
}

// How many standard uncertainties the decision rules in use leave between a
// value and its limit.
var (
	GuardSafety = Figure[unit.Ratio]{
		Value:  1.96,
		Mark:   Estimate,
		Source: "our choice: one chance in forty of being wrong, the quantile of the normal distribution as JCGM 106:2012 rounds it",
		Scope:  "room inside a limit that keeps a part from failing, in standard uncertainties; past the limit there is no benefit of the doubt",
	}
	GuardComfort = Figure[unit.Ratio]{
		Value:  1.64,
		Mark:   Estimate,
		Source: "our choice: one chance in twenty of being wrong, the quantile of the normal distribution as JCGM 106:2012 rounds it",
		Scope:  "room on either side of a limit on what can be felt, in standard uncertainties",
	}
	GuardTwice = Figure[unit.Ratio]{
		Value:  2,
		Mark:   Memory,
		Source: "ISO 14253-1:2013, not read again: the expanded uncertainty, k = 2",
		Scope:  "room on either side of a limit, in standard uncertainties, for whoever has to prove",
	}
	GuardOneSided = Figure[unit.Ratio]{
		Value:  1.65,
		Mark:   Memory,
		Source: "ISO 14253-1:2017, not read again: 95 % chance of conforming, one-sided",
		Scope:  "room on either side of a limit, in standard uncertainties, for whoever has to prove",
	}
)

// A GuardBand is a rule by which a value is called inside or outside.
type GuardBand struct {
	ID  string
	Say string     // u is a standard uncertainty
	In  unit.Ratio // standard uncertainties of room that it takes to be within
	Out unit.Ratio // standard uncertainties past the limit that it takes to be outside
}

// GuardBands lists the rules by name. The first takes the reading as it stands;
// the last two are ours.
func GuardBands() []GuardBand {
	return []GuardBand{
		{"simple", "the reading alone, without doubt", 0, 0},
		{"iso-2013", "2 u on either side (ISO 14253-1:2013)", GuardTwice.Value, GuardTwice.Value},
		{"iso-2017", "1.65 u on either side (ISO 14253-1:2017)", GuardOneSided.Value, GuardOneSided.Value},
		Safety.band(),
		Comfort.band(),
	}
}

func (k Kind) band() GuardBand {
	if k == Safety {
		return GuardBand{"safety", "our rule for what keeps a part from failing, 1.96 u inside and none past", GuardSafety.Value, 0}
	}
	return GuardBand{"comfort", "our rule for what can be felt, 1.64 u on either side", GuardComfort.Value, GuardComfort.Value}
}

func (g GuardBand) judge(r room[float64], u float64) unit.Verdict {
	switch {
	case r.bad < -float64(g.Out)*u:
		return unit.Outside
	case r.good >= float64(g.In)*u:
		return unit.Within
	}
	return unit.TooClose
}

// JudgeBy is [Judge] by a rule of one's choice. With the side that is sound
// taken as positive, and the rule's numbers in and out:
//
//	within   x - L >= in u
//	outside  x - L < -out u
//
// and "too close to call" between. x, u and the limit as for [Judge].
//
// Source: ILAC-G8:09/2019 section 4.2.3, and what the rule names.
func JudgeBy[Q ~float64](x, u Q, limit Limit[Q], g GuardBand) (unit.Verdict, error) {
	if limit.Side == Unknown {
		// A value that is none is refused, whether or not there is a limit.
		limit = AtLeast(Q(0))
		if _, err := roomTo(x, u, limit); err != nil {
			return unit.NoLimit, err
		}
		return unit.NoLimit, nil
	}
	r, err := roomTo(x, u, limit)
	if err != nil {
		return unit.NoLimit, err
	}
	return g.judge(room[float64]{float64(r.good), float64(r.bad)}, float64(u)), nil
}

// The doubt that a certificate or a data sheet states, as a standard
// uncertainty. a is half of the stated interval: "plus or minus a". It is 0 or
// more.
//
// Source: NIST TN 1297 (1994), 4.2 to 4.6.

// FromSigmas takes a stated as a number of standard deviations, k more than 0.
//
//	u = a/k
func FromSigmas[Q ~float64](a Q, k float64) (Q, error) {
	if err := notNegative("stated doubt", a); err != nil {
		return 0, err
	}
	if err := above("number of standard deviations", k, 0); err != nil {
		return 0, err
	}
	u := Q(float64(a) / k)
	return u, finite("doubt", u)
}

// FromChance takes a stated as the half width within which the truth lies with
// chance p, normal about the middle: 0.95, 0.99, or 0.5 for even odds.
//
//	u = a/(√2 erf⁻¹ p)    a/1.960, a/2.576, 1.48 a
//
// p is more than 0 and less than 1.
func FromChance[Q ~float64](a Q, p unit.Ratio) (Q, error) {
	if err := above("chance", p, 0); err != nil {
		return 0, err
	}
	if !(p < 1) {
		return 0, &OutOfRange{"chance", p.String(), "less than 1"}
	}
	return FromSigmas(a, math.Sqrt2*math.Erfinv(float64(p)))
}

// FromRectangle takes a as bounds between which every value is as likely: the
// limits of a gauge's error, and half a step of a digital reading.
//
//	u = a/√3
func FromRectangle[Q ~float64](a Q) (Q, error) { return FromSigmas(a, math.Sqrt(3)) }

// FromTriangle takes a as bounds towards which values grow rarer: a pointer
// read between two marks, and the difference of two rectangles.
//
//	u = a/√6
func FromTriangle[Q ~float64](a Q) (Q, error) { return FromSigmas(a, math.Sqrt(6)) }
