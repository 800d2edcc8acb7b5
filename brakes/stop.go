package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// A Stop is one stop from a speed to a stand.
//
// Until the brakes act the engine or the road is taken to hold the speed. In
// the build-up the deceleration is taken to rise in a straight line from
// nothing to what it stays at.
type Stop struct {
	From     unit.Speed
	Brakes   unit.Acceleration // that of the brakes on the level, fully on
	Downhill unit.Ratio        // slope of the road as a tangent; less than 0 is uphill
	Reaction unit.Time         // from seeing to the foot on the pedal
	Dead     unit.Time         // from there to the first bite
	BuildUp  unit.Time         // from the first bite to brakes fully on
}

// Stopped is what came of a stop.
type Stopped struct {
	Net      unit.Acceleration // that stays, slope and all
	Before   unit.Length       // gone in reaction and dead time
	Braking  unit.Length       // gone from the first bite on
	Distance unit.Length       // both
	Time     unit.Time         // all of it
}

func (s Stop) check() error {
	if err := above("speed", s.From, 0); err != nil {
		return err
	}
	if err := notNegative("reaction time", s.Reaction); err != nil {
		return err
	}
	if err := notNegative("dead time", s.Dead); err != nil {
		return err
	}
	if err := notNegative("build-up time", s.BuildUp); err != nil {
		return err
	}
	return slope(s.Downhill)
}

// pull is what the slope takes from the brakes.
func (s Stop) pull() unit.Acceleration {
	_, f := unit.Kilogram.OnSlope(s.Downhill)
	return f.On(unit.Kilogram)
}

// StoppingDistance gives the way of a stop.
//
//	a = ab - g sin(arctan G)                                 what stays
//	S = v (tr + ta + tb/2) + v²/(2 a) - a tb²/24             where v >= a tb/2
//	S = v (tr + ta) + 2/3 v sqrt(2 v tb / a)                 where it stands before the brakes are fully on
//
// v speed, tr reaction, ta dead time, tb build-up, ab deceleration of the
// brakes on the level, G slope as a tangent, downhill more than 0. v and ab
// are more than 0, times 0 or more, and so much of ab that a is more than 0:
// on a steeper slope these brakes stop nothing. The road has to give the grip
// for it. Source: speed and way by integration of a deceleration that rises in
// a straight line and then stays; the first line is in Limpert, Brake Design
// and Safety, chapter 1 (from memory).
func StoppingDistance(s Stop) (Stopped, error) {
	if err := s.check(); err != nil {
		return Stopped{}, err
	}
	if err := above("deceleration", s.Brakes, 0); err != nil {
		return Stopped{}, err
	}
	net := s.Brakes - s.pull()
	if !(net > 0) {
		return Stopped{}, &OutOfRange{"deceleration", s.Brakes.String(), "more than the slope pulls, " + s.pull().String()}
	}
	out := Stopped{Net: net, Before: s.From.For(s.Reaction + s.Dead)}
	v, a, tb := float64(s.From), float64(net), float64(s.BuildUp)
	var taken float64
	if v >= a*tb/2 {
		out.Braking = unit.Length(v*tb/2 + v*v/(2*a) - a*tb*tb/24)
		taken = tb/2 + v/a
	} else {
		taken = math.Sqrt(2 * v * tb / a)
		out.Braking = unit.Length(2.0 / 3 * v * taken)
	}
	out.Distance = out.Before + out.Braking
	out.Time = s.Reaction + s.Dead + unit.Time(taken)
	return out, finite("distance", out.Distance)
}

// DecelOver is the deceleration of the brakes on the level, fully on, that
// explains a measured way: [StoppingDistance] the other way round. s.Brakes is
// not looked at.
//
//	d = S - v (tr + ta)
//	a = v² / (e + sqrt(e² + v² tb²/12))     e = d - v tb/2, where d >= 2/3 v tb
//	a = 8/9 v³ tb / d²                      where d is less
//	ab = a + g sin(arctan G)
//
// S in m, more than v (tr + ta). It may come out as more than any tyre can
// hold, which means that one of the readings is wrong. Source: as there,
// solved for a.
func DecelOver(way unit.Length, s Stop) (unit.Acceleration, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	before := s.From.For(s.Reaction + s.Dead)
	if err := above("distance", way, 0); err != nil {
		return 0, err
	}
	if !(way > before) {
		return 0, &OutOfRange{"distance", way.String(), "more than is gone before the brakes act, " + before.String()}
	}
	d, v, tb := float64(way-before), float64(s.From), float64(s.BuildUp)
	var a float64
	if d >= 2.0/3*v*tb {
		e := d - v*tb/2
		a = v * v / (e + math.Sqrt(e*e+v*v*tb*tb/12))
	} else {
		a = 8.0 / 9 * v * v * v * tb / (d * d)
	}
	brakes := unit.Acceleration(a) + s.pull()
	if err := finite("deceleration", brakes); err != nil {
		return 0, err
	}
	if !(brakes > 0) {
		return 0, &OutOfRange{"distance", way.String(), "less: the slope alone would stop it in that"}
	}
	return brakes, nil
}

// Where on the way down a mean fully developed deceleration begins and ends.
const (
	MeanFrom unit.Ratio = 0.8 // of the speed at the start
	MeanTo   unit.Ratio = 0.1
)

// MeanDecel is the mean fully developed deceleration, by distance, between two
// speeds: at 0.8 and at 0.1 of the speed at the start.
//
//	dm = (vb² - ve²) / (2 (se - sb))
//
// which is (vb² - ve²)/(25.92 (se - sb)) for km/h and m. vb more than ve, ve 0
// or more; sb and se, the ways gone when these speeds are come to, 0 or more
// and se more than sb. Source: UN Regulation No. 13, annex 4, 1.1.2 (the text
// of a proposal of 2004 that repeats it was read); 13-H, annex 3, has the same.
func MeanDecel(vb, ve unit.Speed, sb, se unit.Length) (unit.Acceleration, error) {
	if err := notNegative("lower speed", ve); err != nil {
		return 0, err
	}
	if err := above("higher speed", vb, ve); err != nil {
		return 0, err
	}
	if err := notNegative("way to the higher speed", sb); err != nil {
		return 0, err
	}
	if err := above("way to the lower speed", se, sb); err != nil {
		return 0, err
	}
	b, e := float64(vb), float64(ve)
	return unit.Acceleration((b - e) * (b + e) / (2 * float64(se-sb))), nil
}

// Coefficient is the c of a rule that is written as S = k V + c V², V in km/h
// and S in m, for a deceleration.
//
//	c = 1/(25.92 d)    25.92 = 2 · 3.6²
//
// d in m/s², more than 0. Source: v²/(2 d) with v = V/3.6.
func Coefficient(d unit.Acceleration) (float64, error) {
	if err := above("deceleration", d, 0); err != nil {
		return 0, err
	}
	return 1 / (25.92 * float64(d)), nil
}

// OfCoefficient is [Coefficient] the other way round: the deceleration that c
// stands for.
//
//	d = 1/(25.92 c)
//
// c more than 0. Source: as there.
func OfCoefficient(c float64) (unit.Acceleration, error) {
	if err := above("coefficient", unit.Ratio(c), 0); err != nil {
		return 0, err
	}
	return unit.Acceleration(1 / (25.92 * c)), nil
}

// TestDistance is the distance that a rule of the shape S = k V + c V² allows.
//
//	S = v t + v²/(2 d)    0.10 V in m with V in km/h is 0.36 s of way
//
// v in m/s, more than 0; t in s, 0 or more; d in m/s², more than 0. Source:
// UN Regulation No. 13-H, annex 3, and FMVSS 135 for the shape, both from
// memory.
func TestDistance(v unit.Speed, t unit.Time, d unit.Acceleration) (unit.Length, error) {
	if err := above("speed", v, 0); err != nil {
		return 0, err
	}
	if err := notNegative("lag", t); err != nil {
		return 0, err
	}
	if err := above("deceleration", d, 0); err != nil {
		return 0, err
	}
	return v.For(t) + times(0.5, v.For(v.Over(d))), nil
}

// TestDecel is the deceleration that such a rule reads out of a stop:
// [TestDistance] the other way round.
//
//	d = v²/(2 (S - v t))
//
// S in m, more than v t. Source: as there; FMVSS 135, S7.14, writes it as
// 0.0386 V²/(S - 0.10 V), from memory.
func TestDecel(v unit.Speed, s unit.Length, t unit.Time) (unit.Acceleration, error) {
	if err := above("speed", v, 0); err != nil {
		return 0, err
	}
	if err := notNegative("lag", t); err != nil {
		return 0, err
	}
	if err := finite("distance", s); err != nil {
		return 0, err
	}
	if !(s > v.For(t)) {
		return 0, &OutOfRange{"distance", s.String(), "more than is gone in the lag, " + v.For(t).String()}
	}
	return unit.Acceleration(float64(v) * float64(v) / (2 * float64(s-v.For(t)))), nil
}

// CorrectedDistance turns the way of a stop from nearly the right speed into
// that from the right one.
//
//	S' = S (V'/V)²
//
// S in m, more than 0; speeds more than 0 and no more than [CorrectionMost]
// apart, for the way before the brakes bite grows with the speed and not with
// its square. Source: SAE J299, stopping distance test procedure, from memory.
func CorrectedDistance(s unit.Length, actual, nominal unit.Speed) (unit.Length, error) {
	if err := positive("distance", s); err != nil {
		return 0, err
	}
	if err := above("speed", actual, 0); err != nil {
		return 0, err
	}
	if err := above("nominal speed", nominal, 0); err != nil {
		return 0, err
	}
	k := float64(unit.Per(nominal, actual))
	if math.Abs(1/k-1) > float64(CorrectionMost.Value)*(1+1e-9) {
		return 0, &OutOfRange{"speed", actual.String(), fmt.Sprintf("within %s of %v", percentage(CorrectionMost.Value), nominal)}
	}
	return times(k*k, s), nil
}

// CorrectionMost is how far a run may be off the speed of a rule and still be
// corrected.
var CorrectionMost = Figure[unit.Ratio]{
	Value:  10 * unit.Percent,
	Mark:   Estimate,
	Source: "our choice: beyond it the correction by the square is a guess",
	Scope:  "speed of a measured stop, as a share of the speed that a rule names, above or below",
}

// RunSpeedLeast is the least share of the speed named for a test from which a
// run counts.
var RunSpeedLeast = Figure[unit.Ratio]{
	Value:  98 * unit.Percent,
	Mark:   Published,
	Source: "UN Regulation No. 13, annex 4, 1.1.2, as a proposal of 2004 repeats it (GRRF-56)",
	Scope:  "speed at which a test stop begins, of the speed that the test names",
}

// SpeedCounts reports whether a run from a speed counts as one from the speed
// that a test names.
//
//	V >= 0.98 V'
//
// Source: [RunSpeedLeast].
func SpeedCounts(actual, nominal unit.Speed) bool {
	return float64(actual) >= float64(RunSpeedLeast.Value)*float64(nominal)*(1-1e-9)
}

// SpeedDoubt is how well a speed is known that somebody reads in the driver's
// seat, where nothing better is said.
var SpeedDoubt = Figure[unit.Ratio]{
	Value:  2.5 * unit.Percent,
	Mark:   Estimate,
	Source: "our choice: a speedometer and a worn tyre are off by 2 to 3 % each way",
	Scope:  "standard deviation of a speed, as a share of it",
}

// StopMark is how well somebody outside sees where the pedal began to move.
var StopMark = Figure[unit.Time]{
	Value:  0.05 * unit.Second,
	Mark:   Estimate,
	Source: "our choice: a mark dropped or a call given, one time in three off by more",
	Scope:  "standard deviation of the instant from which the way of a stop is measured",
}

// TyreGrip is what an ordinary tyre holds on a dry road.
var TyreGrip = Figure[unit.Acceleration]{
	Value:  0.9 * unit.StandardGravity,
	Mark:   Estimate,
	Source: "our choice: ordinary tyres on a dry road hold 0.7 to 0.9 g",
	Scope:  "most deceleration that is believed without a word",
}

// Where and how a stop is driven for a rule of the road.
var (
	TestSlope = Figure[unit.Ratio]{
		Value:  1 * unit.Percent,
		Mark:   Published,
		Source: "California Vehicle Code, section 26456",
		Scope:  "slope of the road on which a stop is measured, up or down",
	}
	TestSpeedMost = Figure[unit.Speed]{
		Value:  25 * unit.MilePerHour,
		Mark:   Published,
		Source: "California Vehicle Code, section 26456",
		Scope:  "speed from which brakes may be tested on a public road",
	}
)

// CodeWet is by how much the UK Highway Code lets a stop get longer in the wet.
var CodeWet = Figure[unit.Ratio]{
	Value:  2,
	Mark:   Published,
	Source: "UK Highway Code, rule 227, as web texts repeat it: at least double",
	Scope:  "stopping distance on a wet road over that on a dry one",
}

// StopDoubt is the standard uncertainty of a measured way, as that from a
// speed which is known with one of its own.
//
//	u² = us² + (2 S uv/v)²
//
// S and v more than 0, us and uv 0 or more. Source: law of propagation,
// JCGM 100:2008 (GUM) 5.1.2, for S in proportion to v².
func StopDoubt(s, us unit.Length, v, uv unit.Speed) unit.Length {
	return unit.Length(math.Hypot(float64(us), 2*float64(s)*float64(unit.Per(uv, v))))
}

// DriverReaction stands for a driver of whom nothing is known.
var DriverReaction = Figure[unit.Time]{
	Value:  1.5 * unit.Second,
	Mark:   Estimate,
	Source: "our choice: awake, not warned; the roads of some countries are laid out for 2.5 s",
	Scope:  "from seeing the need to the foot on the pedal",
}

// What US roads are laid out for.
var (
	SightReaction = Figure[unit.Time]{
		Value:  2.5 * unit.Second,
		Mark:   Published,
		Source: "AASHTO stopping sight distance, as in the Texas Roadway Design Manual, section 4.11.1",
		Scope:  "reaction of nearly all drivers, for laying out a road",
	}
	SightDecel = Figure[unit.Acceleration]{
		Value:  11.2 * unit.FootPerSecondSquared,
		Mark:   Published,
		Source: "AASHTO stopping sight distance, as in the Texas Roadway Design Manual, section 4.11.1",
		Scope:  "deceleration that nearly all drivers choose, on wet roads too, for laying out a road",
	}
)

// sightLow and sightHigh are the speeds for which the table is published.
const (
	sightLow  = 15 * unit.MilePerHour
	sightHigh = 80 * unit.MilePerHour
)

// SightDistance is the stopping sight distance for which US roads are laid
// out, on the level.
//
//	S = 1.47 V t + 1.075 V²/a    ft, with V in mph, t = 2.5 s, a = 11.2 ft/s²
//
// It is a length that a road has to show ahead, and no measure of any brake. V
// is 15 to 80 mph, as far as the table goes; the factors are those printed.
// Source: [SightReaction].
func SightDistance(v unit.Speed) (unit.Length, error) {
	if err := finite("speed", v); err != nil {
		return 0, err
	}
	if float64(v) < float64(sightLow)*(1-1e-9) || float64(v) > float64(sightHigh)*(1+1e-9) {
		return 0, &OutOfRange{"speed", v.String(), "15 to 80 mph, as the table has it"}
	}
	mph := v.MilesPerHour()
	return times(1.47*mph*SightReaction.Value.Seconds()+1.075*mph*mph/SightDecel.Value.FeetPerSecondSquared(), unit.Foot), nil
}

// DesignSight is [SightDistance] as the table prints it: rounded up to the
// next 5 ft.
func DesignSight(v unit.Speed) (unit.Length, error) {
	s, err := SightDistance(v)
	return times(5*math.Ceil(s.Feet()/5-1e-9), unit.Foot), err
}

// What the UK Highway Code takes for typical.
var (
	CodeReaction = Figure[unit.Time]{
		Value:  unit.Time(unit.Foot / unit.Length(unit.MilePerHour)),
		Mark:   Published,
		Source: "UK Highway Code, rule 126, typical stopping distances, as several texts repeat it alike: a foot for each mph",
		Scope:  "thinking distance of a driver who is alert",
	}
	CodeDecel = Figure[unit.Acceleration]{
		Value:  unit.Acceleration(10 * unit.MilePerHour * unit.MilePerHour / unit.FootPerSecond),
		Mark:   Published,
		Source: "UK Highway Code, rule 126, typical stopping distances, as several texts repeat it alike: braking feet are the mph squared over 20",
		Scope:  "braking of a car in good order on a dry road",
	}
)

// CodeDistance is the typical stopping distance of the UK Highway Code, in its
// two parts.
//
//	thinking = V ft, braking = V²/20 ft, with V in mph
//
// V is 20 to 70 mph, as far as the table goes; it prints metres, rounded.
// Source: [CodeReaction], [CodeDecel].
func CodeDistance(v unit.Speed) (thinking, braking unit.Length, err error) {
	if err := finite("speed", v); err != nil {
		return 0, 0, err
	}
	if float64(v) < float64(20*unit.MilePerHour)*(1-1e-9) || float64(v) > float64(70*unit.MilePerHour)*(1+1e-9) {
		return 0, 0, &OutOfRange{"speed", v.String(), "20 to 70 mph, as the table has it"}
	}
	return v.For(CodeReaction.Value), times(0.5, v.For(v.Over(CodeDecel.Value))), nil
}
