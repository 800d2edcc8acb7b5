package brakes

import (
	"fmt"

	"chock/brakes/unit"
)

// row makes a figure of a table of rules. It stands in [Figures] under the id
// of its row.
func row[Q ~float64](value Q, mark Mark, source, scope string) Figure[Q] {
	var f Figure[Q]
	f.Value, f.Mark, f.Source, f.Scope = value, mark, source, scope
	return f
}

// A DistanceTest is one test of a standard for new vehicles, of the shape
// S = k V + c V²: see [TestDistance]. It says nothing against a vehicle in use.
type DistanceTest struct {
	ID      string
	Say     string // whose standard, and with which brakes
	Edition string // as far as it is known
	From    unit.Speed
	OfTop   unit.Ratio                // 0.8 where it is run from that share of the top speed, From at most; else 0
	Lag     Figure[unit.Time]         // k: [ShortLag] or [LongLag]
	Decel   Figure[unit.Acceleration] // c
}

// The way that rules let a vehicle go before its brakes hold, as a time.
var (
	ShortLag = Figure[unit.Time]{
		Value:  0.10 * 3.6 * unit.Second,
		Mark:   Published,
		Source: "UN Regulation No. 13, revision 4, annex 4, 2.2.1; FMVSS 135 and No. 13-H have the same, from memory",
		Scope:  "new vehicles only: 0.10 V in rules of the shape S = k V + c V², km/h and m, for cars",
	}
	LongLag = Figure[unit.Time]{
		Value:  0.15 * 3.6 * unit.Second,
		Mark:   Published,
		Source: "UN Regulation No. 13, revision 4, annex 4, 2.2.1",
		Scope:  "new vehicles only: 0.15 V in rules of the shape S = k V + c V², km/h and m, for trucks and buses",
	}
)

// Most is the distance that the test allows from a speed.
func (t DistanceTest) Most(v unit.Speed) (unit.Length, error) {
	return TestDistance(v, t.Lag.Value, t.Decel.Value)
}

// DistanceTests lists the tests.
func DistanceTests() []DistanceTest {
	test := func(id, say, edition, source string, from float64, lag Figure[unit.Time], c float64, note string) DistanceTest {
		// c is written down in the rule; it is never 0.
		d, err := OfCoefficient(c)
		if err != nil {
			panic("brakes: " + id + ": " + err.Error())
		}
		scope := fmt.Sprintf("new vehicles only; %s from %g km/h: S = %.2f V + %.4f V², km/h and m%s", say, from, lag.Value.Seconds()/3.6, c, note)
		mark := Memory
		if edition == r13rev4 {
			mark = Published
		}
		return DistanceTest{ID: id, Say: say, Edition: edition, From: times(from, unit.KilometrePerHour),
			Lag: lag, Decel: row(d, mark, source, scope)}
	}
	us := func(id, section, say string, c float64, note string) DistanceTest {
		return test("us-135-"+id, "US standard 135, "+say, "since 2000 for cars, 2002 for trucks up to 3,500 kg",
			"FMVSS 135 (49 CFR 571.135), "+section+", not read again", 100, ShortLag, c, note)
	}
	un := func(id, section, say string, c float64, note string) DistanceTest {
		return test("un-13h-"+id, "UN rule 13-H, "+say, "02 series, in force 2025",
			"UN Regulation No. 13-H, annex 3, section "+section+", not read again", 100, ShortLag, c, note)
	}
	second := func(id, say string, from float64, lag Figure[unit.Time], over float64) DistanceTest {
		return test("un-13-"+id, "UN rule 13, "+say+" with part of the brakes lost", r13rev4,
			"UN Regulation No. 13, revision 4, annex 4, 2.2.1 and 2.2.4", from, lag, 2/over, fmt.Sprintf("; printed as 2 V²/%g", over))
	}
	fast := func(t DistanceTest) DistanceTest {
		t.From, t.OfTop = 160*unit.KilometrePerHour, 0.8
		return t
	}
	return []DistanceTest{
		us("cold", "S7.5", "cold brakes", 0.0060, "; 70 m from 100 km/h was read in NHTSA interpretation 11409"),
		fast(us("fast", "S7.6", "cold brakes at high speed", 0.0067, "; from 80 % of the top speed, 160 km/h at most")),
		us("engine-off", "S7.7", "engine off", 0.0063, ""),
		us("antilock", "S7.8", "antilock failed", 0.0075, ""),
		us("valve", "S7.9", "proportioning failed", 0.0100, ""),
		us("circuit", "S7.10", "one circuit lost", 0.0158, ""),
		us("assist", "S7.11", "power assist lost", 0.0158, ""),
		us("hot", "S7.14", "hot brakes", 0.0079, "; and 60 % of the best cold stop"),
		un("cold", "2.1.1", "cold brakes", 0.0060, "; mean deceleration 6.43 m/s² or more"),
		fast(un("engine-on", "2.1.1", "engine connected, at high speed", 0.0067, "; mean deceleration 5.76 m/s² or more; from 80 % of the top speed, 160 km/h at most")),
		un("second", "2.2", "part of the brakes or the assist lost", 0.0158, "; mean deceleration 2.44 m/s² or more"),
		second("second-car", "cars", 80, ShortLag, 150),
		second("second-van", "light trucks", 70, LongLag, 115),
		second("second-bus", "buses", 60, LongLag, 130),
	}
}

const r13rev4 = "revision 4"

// Shares of what cold brakes do that hot brakes of a new vehicle must keep.
var (
	HotLeast = Figure[unit.Ratio]{
		Value:  60 * unit.Percent,
		Mark:   Published,
		Source: "FMVSS 135 (49 CFR 571.135), S7.14, as NHTSA interpretation 11409 puts it",
		Scope:  "new vehicles only: deceleration with hot brakes over that of the best cold stop, with no more force on the pedal",
	}
	RecoveryLeast = Figure[unit.Ratio]{
		Value:  70 * unit.Percent,
		Mark:   Published,
		Source: "FMVSS 135 (49 CFR 571.135), S7.16, as NHTSA interpretation 11409 puts it",
		Scope:  "new vehicles only: deceleration after the hot brakes have recovered, over that of the best cold stop",
	}
	RecoveryMost = Figure[unit.Ratio]{
		Value:  150 * unit.Percent,
		Mark:   Published,
		Source: "FMVSS 135 (49 CFR 571.135), S7.16, as NHTSA interpretation 11409 puts it",
		Scope:  "new vehicles only: deceleration after the hot brakes have recovered, over that of the best cold stop",
	}
	HotOfPrescribed = Figure[unit.Ratio]{
		Value:  75 * unit.Percent,
		Mark:   Memory,
		Source: "UN Regulation No. 13-H, annex 3, section 1.5, not read again",
		Scope:  "new cars only: deceleration with hot brakes over what cold ones must do, and 60 % of what they did",
	}
)

// ShareOfCold is the distance from a speed of brakes that keep a share of the
// deceleration of a cold stop.
//
//	dc = v²/(2 (Sc - v t))    S = v t + v²/(2 k dc)
//
// v and Sc as for [TestDecel], share k more than 0. Source: FMVSS 135, S7.14
// and S7.16, from memory for the shape.
func ShareOfCold(v unit.Speed, cold unit.Length, t unit.Time, k unit.Ratio) (unit.Length, error) {
	d, err := TestDecel(v, cold, t)
	if err != nil {
		return 0, err
	}
	if err := above("share", k, 0); err != nil {
		return 0, err
	}
	return TestDistance(v, t, times(float64(k), d))
}

// A StopRule is a distance within which a vehicle has to stand, counted from
// the first movement of the pedal.
type StopRule struct {
	ID   string
	Say  string
	From unit.Speed
	Most Figure[unit.Length]
	Lane Figure[unit.Length] // in which it has to stay; unknown where none is named
	New  bool                // a standard for new vehicles: never a failure in use
}

// Broken reports whether a way is more than the rule lets pass: the very
// distance is enough.
func (r StopRule) Broken(way unit.Length) bool { return float64(way) > float64(r.Most.Value)*(1+1e-9) }

// StopRules lists the rules that name one distance. Those of 49 CFR 393.52
// stand among them; see [ForceRules] for its other two criteria.
func StopRules() []StopRule {
	const (
		light = "49 CFR 570.5(d)(2), not read again"
		heavy = "49 CFR 570.59(a), not read again"
		ohio  = "Ohio Administrative Code 4501:2-1-08"
		us105 = "FMVSS 105 (49 CFR 571.105), Table II, not read again"
		road  = "stop from 20 mph in use, on a level, dry, smooth, hard road, from the first movement of the pedal"
		lane  = "lane in which the vehicle has to stay in that stop"
	)
	from20 := func(id, say string, feet float64, mark Mark, source, scope string) StopRule {
		return StopRule{ID: id, Say: say, From: 20 * unit.MilePerHour, Most: row(times(feet, unit.Foot), mark, source, scope)}
	}
	in12 := func(r StopRule, source string) StopRule {
		r.Lane = row(12*unit.Foot, Memory, source, lane)
		return r
	}
	from60 := func(id, say string, feet float64) StopRule {
		return StopRule{ID: "us-105-" + id, Say: "US standard 105, new cars, " + say, From: 60 * unit.MilePerHour, New: true,
			Most: row(times(feet, unit.Foot), Memory, us105, "new cars only: stop from 60 mph, "+say)}
	}
	rules := []StopRule{
		in12(from20("us-570-light", "US in-use standard, up to 10,000 lb (4,536 kg)", 25, Memory, light, road), light),
		in12(from20("us-570-heavy", "US in-use standard, over 10,000 lb (4,536 kg), one unit", 35, Memory, heavy, road), heavy),
		in12(from20("us-570-train", "US in-use standard, over 10,000 lb (4,536 kg), with a trailer", 40, Memory, heavy, road), heavy),
		from20("ohio-all", "Ohio, brakes on all wheels", 30, Published, ohio, road),
		from20("ohio-other", "Ohio, brakes not on all wheels", 40, Published, ohio, road),
	}
	for _, f := range ForceRules() {
		stop := from20(f.ID, f.Say, 0, "", "", "")
		stop.Most = f.Stop
		second := from20(f.ID+"-emergency", f.Say+", emergency brake alone", 0, "", "", "")
		second.Most = f.Emergency
		rules = append(rules, stop, second)
	}
	return append(rules,
		from60("first", "first test", 216),
		from60("second", "second test", 204),
		from60("third", "third test, lightly laden", 194),
		from60("circuit", "one circuit lost", 456),
		from60("assist", "power assist lost", 456),
	)
}

// A ForceRule is one row of the table of 49 CFR 393.52(d). Its criteria stand
// each on its own: 17 ft/s² from 20 mph takes 25.3 ft, which is more than the
// 25 ft beside it. One is never worked out from another.
type ForceRule struct {
	ID, Say   string
	Force     Figure[unit.Ratio]        // all brake force over the weight, at least
	Decel     Figure[unit.Acceleration] // from 20 mph, at least
	Stop      Figure[unit.Length]       // from 20 mph, at most
	Emergency Figure[unit.Length]       // from 20 mph with the emergency brake alone, at most
}

// ForceRules lists the rows.
func ForceRules() []ForceRule {
	const source = "49 CFR 393.52(d), as the same table in 67 Pa. Code chapter 175, Table I, has it"
	class := func(id, say string, percent, decel, stop, emergency float64) ForceRule {
		scope := say + "; commercial vehicles in use, under any load, on a level, dry, smooth, hard road"
		return ForceRule{ID: "us-393-" + id, Say: "US rule for commercial vehicles, " + say,
			Force:     row(times(percent, unit.Percent), Published, source, "brake force over weight, "+scope),
			Decel:     row(times(decel, unit.FootPerSecondSquared), Published, source, "deceleration from 20 mph, "+scope),
			Stop:      row(times(stop, unit.Foot), Published, source, "stop from 20 mph, "+scope),
			Emergency: row(times(emergency, unit.Foot), Published, source, "stop from 20 mph with the emergency brake alone, "+scope)}
	}
	return []ForceRule{
		class("car", "cars with up to ten seats", 65.2, 21, 20, 54),
		class("light-bus", "more than ten seats on a car's chassis, or buses up to 10,000 lb (4,536 kg)", 52.8, 17, 25, 66),
		class("bus", "other vehicles for passengers", 43.5, 14, 35, 85),
		class("light-truck", "trucks up to 10,000 lb (4,536 kg)", 52.8, 17, 25, 66),
		class("truck", "trucks over 10,000 lb (4,536 kg), and light trailers behind a truck of two axles", 43.5, 14, 35, 85),
		class("train", "other trucks and trains", 43.5, 14, 40, 90),
	}
}

// TooWeak reports whether a brake force over the weight is less than the rule
// asks: the very figure is enough.
func (r ForceRule) TooWeak(share unit.Ratio) bool {
	return float64(share) < float64(r.Force.Value)*(1-1e-9)
}

// TooSlow is the same of a deceleration.
func (r ForceRule) TooSlow(d unit.Acceleration) bool {
	return float64(d) < float64(r.Decel.Value)*(1-1e-9)
}

// tabled lists the figures that stand in tables of rules, under the id of
// their row and what they are of it.
func tabled() []Listed {
	var list []Listed
	for _, t := range DistanceTests() {
		list = append(list, listed(t.ID+" deceleration", t.Decel))
	}
	for _, r := range StopRules() {
		list = append(list, listed(r.ID+" stop", r.Most))
		if r.Lane.Known() {
			list = append(list, listed(r.ID+" lane", r.Lane))
		}
	}
	for _, r := range ForceRules() {
		list = append(list, listed(r.ID+" brake force", r.Force), listed(r.ID+" deceleration", r.Decel))
	}
	for _, r := range ParkRules() {
		for _, f := range []struct {
			of string
			Figure[unit.Ratio]
		}{{"slope", r.Slope}, {"force share", r.Share}} {
			if f.Known() {
				list = append(list, listed(r.ID+" parking "+f.of, f.Figure))
			}
		}
		if r.For.Known() {
			list = append(list, listed(r.ID+" parking time", r.For))
		}
		if r.Hand.Known() {
			list = append(list, listed(r.ID+" parking hand", r.Hand))
		}
		if r.Foot.Known() {
			list = append(list, listed(r.ID+" parking foot", r.Foot))
		}
	}
	for _, h := range HeatSigns() {
		list = append(list, listed(h.ID+" from", h.From))
	}
	for _, f := range Fluids() {
		list = append(list, listed(f.ID+" dry", f.Dry), listed(f.ID+" wet", f.Wet))
	}
	return list
}
