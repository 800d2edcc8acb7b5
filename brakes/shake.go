package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// How far the speed may be off, by where it is read.
var SpeedOff = Figure[unit.Ratio]{
	Value:  0.03,
	Mark:   Estimate,
	Source: "our choice: the dial of an older vehicle, with the tyres it has now",
	Scope:  "a speed read from the dial: plus or minus this; a speed by satellite is good to 1 %",
}

// CountOff is how far one count of a shake may be off against another.
var CountOff = Figure[unit.Ratio]{
	Value:  0.02,
	Mark:   Estimate,
	Source: "our choice: the same shake counted twice, and a dial that is off at one speed and not at the other",
	Scope:  "frequencies of one shake at two speeds, the ratio of one to the other: plus or minus this",
}

// A Part is what turns.
type Part int

// Every wheel turns alike on a straight road, so which of the four it is no
// frequency tells. With a wheel turn its tyre, rotor or drum and hub.
const (
	Wheel Part = iota
	Shaft
)

func (p Part) String() string {
	if p == Shaft {
		return "shaft"
	}
	return "wheel"
}

// A Beat is what one part gives off: so many times in one of its turns.
type Beat struct {
	Part  Part
	Order int // times a turn of the part
	Rate  unit.Frequency
}

// The orders that are looked at. A rotor's hot spots and a tyre's tread come
// oftener, and are counted by eye.
const (
	wheelOrders = 3
	shaftOrders = 2
)

// Beats gives the frequencies of wheel and shaft at a speed.
//
//	f = n v / c        wheel, n = 1 to 3
//	f = n i v / c      shaft, n = 1 and 2; i axle ratio, shaft turns to one of the wheel
//
// Speed v in m/s, more than 0; way of one turn c in m, more than 0; i 1 to 10,
// or 0 where it is not known: then no shaft is reckoned. It holds for a shaft
// between gearbox and axle, straight ahead, no wheel slipping. Source:
// kinematics; the orders are those of makers' service information on
// vibration.
func Beats(v unit.Speed, turn unit.Length, axle unit.Ratio) ([]Beat, error) {
	if err := above("speed", v, 0); err != nil {
		return nil, err
	}
	if err := positive("way of one turn", turn); err != nil {
		return nil, err
	}
	if err := finite("axle ratio", axle); err != nil {
		return nil, err
	}
	if axle != 0 && (axle < 1 || axle > 10) {
		return nil, &OutOfRange{"axle ratio", fmt.Sprintf("%g", float64(axle)), "1 to 10, as 3.55"}
	}
	one := v.Round(turn)
	var beats []Beat
	for n := 1; n <= wheelOrders; n++ {
		beats = append(beats, Beat{Wheel, n, times(float64(n), one)})
	}
	for n := 1; axle != 0 && n <= shaftOrders; n++ {
		beats = append(beats, Beat{Shaft, n, times(float64(n)*float64(axle), one)})
	}
	return beats, nil
}

// A Match is a felt or measured frequency held against a beat.
type Match struct {
	Beat
	Off  unit.Ratio   // felt over reckoned, less 1
	Fits unit.Verdict // Within: it fits; TooClose: it cannot be ruled out; Outside: it does not
}

// MatchBeat holds a frequency against a beat.
//
//	off   = f / f0 - 1
//	fits          |off| <= sqrt(s² + t² + d²)     d = step/2 over f
//	not ruled out |off| <= s + t + d
//
// f in Hz, more than 0, read to a step of 0 or more; s and t say how far speed
// and tyre may be off, 0 to 0.5. Source: our choice: the root of the squares is
// what limits that have nothing to do with each other make together most of the
// time, their sum is the most that they can make.
func MatchBeat(b Beat, f, step unit.Frequency, s, t unit.Ratio) (Match, error) {
	if err := above("frequency", f, 0); err != nil {
		return Match{}, err
	}
	if err := notNegative("step of the frequency", step); err != nil {
		return Match{}, err
	}
	if err := above("frequency of the part", b.Rate, 0); err != nil {
		return Match{}, err
	}
	for _, x := range []struct {
		what string
		off  unit.Ratio
	}{{"doubt of the speed", s}, {"doubt of the tyre", t}} {
		if err := notNegative(x.what, x.off); err != nil {
			return Match{}, err
		}
		if x.off > 0.5 {
			return Match{}, &OutOfRange{x.what, x.off.String(), "50 % or less"}
		}
	}
	d := unit.Per(step, f) / 2
	m := Match{Beat: b, Off: unit.Per(f, b.Rate) - 1, Fits: unit.Outside}
	off := unit.Ratio(math.Abs(float64(m.Off)))
	switch {
	case off <= unit.Ratio(math.Hypot(math.Hypot(float64(s), float64(t)), float64(d))):
		m.Fits = unit.Within
	case off <= s+t+d:
		m.Fits = unit.TooClose
	}
	return m, nil
}

// TellApart gives the speed from which a frequency read to a step tells two
// beats apart, one being q times the other. All that turns with the road grows
// alike, so what speed and tyre are off never gets less: where it is too much,
// no speed tells, and ok is false.
//
//	h  = (q - 1)/(q + 1)       half the gap, q the larger over the smaller
//	v' = v step / (2 f sqrt(h² - s² - t²))     where h² > s² + t²
//
// f is the lower of the two at speed v. Speed and rates more than 0, step 0 or
// more, s and t 0 or more. Source: the rule of [MatchBeat] solved for the speed.
func TellApart(a, b Beat, v unit.Speed, step unit.Frequency, s, t unit.Ratio) (from unit.Speed, ok bool, err error) {
	for _, r := range []unit.Frequency{a.Rate, b.Rate} {
		if err := above("frequency of the part", r, 0); err != nil {
			return 0, false, err
		}
	}
	if err := above("speed", v, 0); err != nil {
		return 0, false, err
	}
	if err := notNegative("step of the frequency", step); err != nil {
		return 0, false, err
	}
	for _, x := range []unit.Ratio{s, t} {
		if err := notNegative("doubt of speed or tyre", x); err != nil {
			return 0, false, err
		}
	}
	low, high := min(a.Rate, b.Rate), max(a.Rate, b.Rate)
	q := float64(unit.Per(high, low))
	h := (q - 1) / (q + 1)
	left := h*h - float64(s)*float64(s) - float64(t)*float64(t)
	if !(left > 0) {
		return 0, false, nil
	}
	d := float64(unit.Per(step, low)) / 2
	return times(d/math.Sqrt(left), v), true, nil
}

// A Growth is how a shake's frequency goes with speed.
type Growth int

const (
	// GrowthUnknown: the two speeds are too near each other to tell.
	GrowthUnknown Growth = iota
	// GrowsWithSpeed is a part that turns with the road.
	GrowsWithSpeed
	// StaysPut is something that swings by itself, whatever shakes it.
	StaysPut
	// GrowsOtherwise is neither: two shakes, or a part that turns with the engine.
	GrowsOtherwise
)

// A Trend is what two speeds and their frequencies say.
type Trend struct {
	Power  unit.Ratio // f grows as v to this power: 1 turns with the road, 0 stays put
	Doubt  unit.Ratio // how far the power may be off
	Growth Growth
	Apart  unit.Ratio // how many times the lower speed the higher one has to be, to tell 1 from 0
}

// ReadTrend holds two speeds and the frequency at each against one another.
// Tyre and dial are off alike at both, so only what differs between the two
// counts: their steps, and e.
//
//	k  = ln(f2/f1) / ln(v2/v1)
//	w  = sqrt((d1/f1)² + (d2/f2)² + e²)    d = step/2, e such as [CountOff]
//	w' = w / |ln(v2/v1)|
//	turns with the road  |k - 1| <= w'     stays put  |k| <= w'
//	apart = exp(2 w)                       from there the two cannot both hold
//
// Speeds, frequencies more than 0, speeds not equal; steps 0 or more; e 0 to 0.5.
// Source: a turning part keeps f/v (makers' service information on vibration);
// the bands are our choice.
func ReadTrend(v1, v2 unit.Speed, f1, f2, step1, step2 unit.Frequency, e unit.Ratio) (Trend, error) {
	for _, v := range []unit.Speed{v1, v2} {
		if err := above("speed", v, 0); err != nil {
			return Trend{}, err
		}
	}
	for _, f := range []unit.Frequency{f1, f2} {
		if err := above("frequency", f, 0); err != nil {
			return Trend{}, err
		}
	}
	for _, s := range []unit.Frequency{step1, step2} {
		if err := notNegative("step of the frequency", s); err != nil {
			return Trend{}, err
		}
	}
	if err := notNegative("doubt of a count", e); err != nil {
		return Trend{}, err
	}
	if e > 0.5 {
		return Trend{}, &OutOfRange{"doubt of a count", e.String(), "50 % or less"}
	}
	if v1 == v2 {
		return Trend{}, &OutOfRange{"other speed", v2.String(), "another than " + v1.String()}
	}
	span := math.Log(float64(unit.Per(v2, v1)))
	w := math.Hypot(math.Hypot(float64(unit.Per(step1, f1))/2, float64(unit.Per(step2, f2))/2), float64(e))
	t := Trend{
		Power: unit.Ratio(math.Log(float64(unit.Per(f2, f1))) / span),
		Doubt: unit.Ratio(w / math.Abs(span)),
		Apart: unit.Ratio(math.Exp(2 * w)),
	}
	turns, stays := math.Abs(float64(t.Power)-1) <= float64(t.Doubt), math.Abs(float64(t.Power)) <= float64(t.Doubt)
	switch {
	case turns && stays:
		t.Growth = GrowthUnknown
	case turns:
		t.Growth = GrowsWithSpeed
	case stays:
		t.Growth = StaysPut
	default:
		t.Growth = GrowsOtherwise
	}
	return t, nil
}

// PulseSlip is by how many the pulses of a count may be off: where it began and
// where it ended.
const PulseSlip = 1

// A PulseCount is what pulses counted over some turns of a wheel say.
type PulseCount struct {
	PerTurn, Low, High unit.Ratio
	Order              int        // the only whole number between Low and High; 0 where there is none or several
	Shaft              int        // so many a turn of the shaft fits; 0 where none does or the axle ratio is not known
	More               unit.Count // turns that it takes to part one whole number from the next
}

// CountPulses takes pulses counted by ear or foot over turns of a wheel called
// out by somebody beside it. Speed and tyre do not come into it, so nothing of
// theirs can be wrong.
//
//	n = pulses / turns, from (pulses - 1)/turns to (pulses + 1)/turns
//
// Pulses 0 to 1000, whole; turns 1 to 1000; axle ratio 1 to 10, or 0 where it
// is not known. Source: our choice: a count may miss one at one of its ends.
func CountPulses(pulses, turns unit.Count, axle unit.Ratio) (PulseCount, error) {
	if err := notNegative("number of pulses", pulses); err != nil {
		return PulseCount{}, err
	}
	if err := finite("number of turns", turns); err != nil {
		return PulseCount{}, err
	}
	if err := finite("axle ratio", axle); err != nil {
		return PulseCount{}, err
	}
	switch {
	case pulses > 1000:
		return PulseCount{}, &OutOfRange{"number of pulses", fmt.Sprint(float64(pulses)), "1000 or less"}
	case turns < 1 || turns > 1000:
		return PulseCount{}, &OutOfRange{"number of turns", fmt.Sprint(float64(turns)), "1 to 1000"}
	case axle != 0 && (axle < 1 || axle > 10):
		return PulseCount{}, &OutOfRange{"axle ratio", fmt.Sprintf("%g", float64(axle)), "1 to 10, as 3.55"}
	}
	p := PulseCount{
		PerTurn: unit.Per(pulses, turns),
		Low:     unit.Per(max(0, pulses-PulseSlip), turns),
		High:    unit.Per(pulses+PulseSlip, turns),
		More:    2*PulseSlip + 1,
	}
	first := math.Ceil(float64(p.Low) - 1e-9)
	if last := math.Floor(float64(p.High) + 1e-9); first == last && first > 0 {
		p.Order = int(first)
	}
	for n := shaftOrders; n >= 1; n-- {
		if r := unit.Ratio(n) * axle; axle != 0 && p.Low <= r && r <= p.High {
			p.Shaft = n
		}
	}
	return p, nil
}
