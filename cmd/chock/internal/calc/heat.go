package calc

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"chock/brakes"
	"chock/brakes/unit"
)

// ironInputs are what rotors or drums are made of.
var ironInputs = []Input{
	{Name: "rotor-mass", Kind: unit.KindMass, Optional: true, Vehicle: "AXLE-rotor-mass", Say: "weight of one rotor"},
	{Name: "drum-mass", Kind: unit.KindMass, Optional: true, Vehicle: "AXLE-drum-mass", Say: "in its place: weight of one drum"},
	{Name: "rotors", Kind: unit.KindCount, Optional: true, Say: "how many of them share the heat (2 if not given, those of one axle)"},
	{Name: "share", Kind: unit.KindRatio, Optional: true, Say: "their share of all braking, as 70 %"},
	{Name: "into-iron", Kind: unit.KindRatio, Optional: true, Say: "share of that heat that goes into the iron (100 % if not given, which is a little much)"},
	{Name: "specific-heat", Kind: unit.KindSpecificHeat, Optional: true, Say: "of the iron, as 460 J/kg-K or 0.11 Btu/lb-F"},
	{Name: "ambient", Kind: unit.KindTemperature, Optional: true, Say: "temperature of the air, as 70 F (20 C if not given)"},
	{Name: "start", Kind: unit.KindTemperature, Optional: true, Say: "temperature of the brakes at the start (that of the air if not given)"},
	{Name: "cooling-time", Kind: unit.KindTime, Optional: true, Default: "min", Say: "time in which their heat over the air falls to 37 % at that speed, as 10 min"},
	{Name: "cooled-from", Kind: unit.KindTemperature, Optional: true, Say: "in its place, two readings of a part that cools: the first"},
	{Name: "cooled-to", Kind: unit.KindTemperature, Optional: true, Say: "and the later one"},
	{Name: "cooled-in", Kind: unit.KindTime, Optional: true, Default: "min", Say: "and the time between"},
	{Name: "axle", Kind: unit.KindWord, Optional: true, Say: "front or rear: whose rotors or drums they are"},
}

var stopHeat = Calculation{
	Name:    "stop-heat",
	Command: "heat",
	Short:   "how hot one stop, or stop after stop, makes rotors or drums",
	Title:   "Heat of stopping",
	Inputs: slices.Concat(massInputs, []Input{
		{Name: "speed", Kind: unit.KindSpeed, Default: "mph", Say: "speed from which it brakes"},
		{Name: "to-speed", Kind: unit.KindSpeed, Optional: true, Default: "mph", Say: "speed to which it brakes (a stand if not given)"},
		{Name: "turning", Kind: unit.KindRatio, Optional: true, Say: "what turns with the wheels, as a share of the moving energy, as 5 % (0 if not given)"},
		{Name: "stops", Kind: unit.KindCount, Optional: true, Say: "how many such stops (1 if not given)"},
		{Name: "every", Kind: unit.KindTime, Optional: true, Default: "s", Say: "time from one stop to the next"},
	}, ironInputs, []Input{
		{Name: "decel", Kind: unit.KindAcceleration, Optional: true, Say: "how hard it brakes: for the skin of the rotor, with --swept-area"},
		{Name: "swept-area", Kind: unit.KindArea, Optional: true, Say: "area that the pads rub on one rotor, both faces, as 140 in2"},
		{Name: "wall", Kind: unit.KindLength, Optional: true, Typed: true, Say: "thickness of the iron behind one rubbed face: of a vented rotor one plate, of a solid one half of it"},
	}),
	Keys: heatKeys,
	run:  runHeat,
}

var heatKeys = []string{"energy_kj", "rise_per_stop_c", "final_c", "final_low_c", "final_high_c", "endless_c", "flash_rise_c"}

// An oven is rotors or drums about to be heated, and what was taken for
// granted.
type oven struct {
	in inputs
	us bool
	r  *Result

	irons      brakes.Irons
	haveIrons  bool
	low        brakes.Irons // the same, reckoned as cool as they may be
	what       string       // rotor or drum
	air, start unit.Temperature
	cooling    unit.Time
	slowest    unit.Time // of cooling
	quickest   unit.Time
}

// ovenOf takes the inputs of ironInputs.
func ovenOf(in inputs, us bool, r *Result) (*oven, error) {
	o := &oven{in: in, us: us, r: r, what: "rotor"}
	axle, err := in.word("axle", "front", "rear")
	if err != nil {
		return nil, err
	}
	if err := o.mass(); err != nil {
		return nil, err
	}
	if err := o.shares(axle); err != nil {
		return nil, err
	}
	if c, ok, err := between(in, "specific-heat", unit.SpecificHeat(100), 5000, "350 to 1,000 J/kg-K for a metal"); err != nil {
		return nil, err
	} else if ok {
		o.irons.Heat = c
	} else {
		o.irons.Heat = brakes.IronHeat.Value
	}
	o.low = o.irons
	if len(in["into-iron"]) == 0 {
		o.low.Inside = brakes.IntoIronLeast.Value
	}
	if len(in["specific-heat"]) == 0 {
		o.low.Heat = brakes.HotIronHeat.Value
	}
	return o, o.weather()
}

// mass takes the weight and number of the irons.
func (o *oven) mass() error {
	name := "rotor-mass"
	switch {
	case len(o.in["drum-mass"]) == 0:
	case len(o.in[name]) > 0:
		return &InputError{"drum-mass", fmt.Errorf("rotors or drums? give --rotor-mass or --drum-mass, not both")}
	default:
		name, o.what = "drum-mass", "drum"
	}
	m, ok, err := between(o.in, name, unit.Mass(0.5), 200, "the weight of one, 1 to 440 lb (0.5 to 200 kg)")
	if err != nil {
		return err
	}
	o.haveIrons = ok
	n, err := o.in.whole("rotors")
	if err != nil {
		return err
	}
	if len(o.in["rotors"]) == 0 {
		n = 2
	}
	if n < 1 || n > 12 {
		return &InputError{"rotors", fmt.Errorf("%d: want 1 to 12", n)}
	}
	o.irons.Count, o.irons.Each = n, m
	return nil
}

// shares takes what part of the heat is theirs.
func (o *oven) shares(axle string) error {
	s, have, err := between(o.in, "share", unit.Ratio(0.01), 1, "more than 1 % and no more than 100 %, as 70 %")
	if err != nil {
		return err
	}
	switch {
	case have:
	case o.irons.Count >= 4:
		s = 1
	case axle == "rear" || axle == "" && o.what == "drum":
		s = 1 - brakes.FrontShare.Value
	default:
		s = brakes.FrontShare.Value
	}
	if !have && o.irons.Count < 4 && o.haveIrons {
		o.r.warn("Share of the braking not given: %.0f %% is taken for this axle (%s).", s.Percent(), brakes.FrontShare.Mark)
		o.r.Sources = append(o.r.Sources, sourceFigure(o.us, "share of the front axle", brakes.FrontShare))
	}
	o.irons.Axle = s
	p, have, err := between(o.in, "into-iron", unit.Ratio(0.5), 1, "50 to 100 %")
	if err != nil {
		return err
	}
	if !have {
		p = 1
	}
	o.irons.Inside = p
	return nil
}

// weather takes air, start and cooling.
func (o *oven) weather() error {
	air, have, err := between(o.in, "ambient", unit.Celsius(-60), unit.Celsius(60), "-76 to 140 F (-60 to 60 C)")
	if err != nil {
		return err
	}
	if !have {
		air = unit.Celsius(20)
	}
	start, have, err := between(o.in, "start", unit.Celsius(-60), unit.Celsius(900), "-76 to 1650 F (-60 to 900 C)")
	if err != nil {
		return err
	}
	if !have {
		start = air
	}
	cooling, have, err := between(o.in, "cooling-time", 10*unit.Second, 10*unit.Hour, "10 s to 10 h")
	if err != nil {
		return err
	}
	if !have {
		if cooling, have, err = o.cooled(air); err != nil {
			return err
		}
	} else if len(o.in["cooled-from"])+len(o.in["cooled-to"])+len(o.in["cooled-in"]) > 0 {
		return &InputError{"cooling-time", fmt.Errorf("give it, or two readings with --cooled-from, --cooled-to and --cooled-in")}
	}
	f := brakes.CoolingFactor.Value
	o.quickest, o.slowest = cooling, cooling
	if !have {
		cooling = brakes.CoolingTime.Value
		o.quickest, o.slowest = times(1/f, cooling), times(f, cooling)
	}
	o.air, o.start, o.cooling = air, start, cooling
	return nil
}

// cooled is the cooling time that two readings tell.
func (o *oven) cooled(air unit.Temperature) (unit.Time, bool, error) {
	names := []string{"cooled-from", "cooled-to", "cooled-in"}
	n := 0
	for _, name := range names {
		n += len(o.in[name])
	}
	if n == 0 {
		return 0, false, nil
	}
	for _, name := range names {
		if len(o.in[name]) == 0 {
			return 0, false, &InputError{name, fmt.Errorf("is needed: a cooling time takes two temperatures and the time between")}
		}
	}
	if len(o.in["ambient"]) == 0 {
		return 0, false, &InputError{"ambient", fmt.Errorf("is needed: cooling counts from the temperature of the air")}
	}
	first, _ := valueOf[unit.Temperature](o.in, "cooled-from")
	later, _ := valueOf[unit.Temperature](o.in, "cooled-to")
	between, _ := valueOf[unit.Time](o.in, "cooled-in")
	tau, err := brakes.CoolingFrom(first, later, air, between)
	if err != nil {
		var out *brakes.OutOfRange
		name := "cooled-from"
		if errors.As(err, &out) && out.Quantity == "later temperature" {
			name = "cooled-to"
		} else if errors.As(err, &out) && out.Quantity == "time between" {
			name = "cooled-in"
		}
		// The formula speaks in kelvin; nobody reads those.
		return 0, false, &InputError{name, fmt.Errorf("%s: want a first reading over a later one over the air, and a time of more than 0", o.in[name][0].Text)}
	}
	if !(tau >= 10*unit.Second && tau <= 10*unit.Hour) {
		return 0, false, &InputError{"cooled-in", fmt.Errorf("%s: that would be a cooling time of %v; want readings further apart", o.in["cooled-in"][0].Text, tau)}
	}
	o.r.step("cooling time = %.1f min / ln((%s - %s) / (%s - %s)) = %.1f min", between.Minutes(), degreesTwo(o.us, first), degreesTwo(o.us, air), degreesTwo(o.us, later), degreesTwo(o.us, air), tau.Minutes())
	return tau, true, nil
}

// signs says what nose and eye would tell at a temperature.
func (o *oven) signs(t unit.Temperature) {
	if o.what != "drum" {
		return
	}
	said := ""
	var at brakes.HeatSign
	for _, s := range brakes.HeatSigns() {
		if t >= s.From.Value {
			said, at = s.Say, s
		}
	}
	if said == "" {
		return
	}
	o.r.say("On a drum that hot %s (published, heavy vehicles). If nothing of that shows, it is likely less hot.", said)
	o.r.Sources = append(o.r.Sources, sourceFigure(o.us, "sign of heat", at.From))
}

// taken names what was taken because nothing was given.
func (o *oven) taken(cools bool) {
	if len(o.in["specific-heat"]) == 0 {
		o.r.Sources = append(o.r.Sources, sourceFigure(o.us, "specific heat", brakes.IronHeat), sourceFigure(o.us, "of hot iron, for the low end", brakes.HotIronHeat))
	}
	if len(o.in["into-iron"]) == 0 {
		o.r.Sources = append(o.r.Sources, sourceFigure(o.us, "share into the iron, for the low end", brakes.IntoIronLeast))
	}
	if cools && len(o.in["cooling-time"]) == 0 && len(o.in["cooled-from"]) == 0 {
		o.r.Sources = append(o.r.Sources, sourceFigure(o.us, "cooling time", brakes.CoolingTime), sourceFigure(o.us, "longer or shorter by a factor of", brakes.CoolingFactor))
	}
}

// fade says what a temperature and the upper end of its band mean, for what
// was reckoned: "This", "In neutral it".
func (o *oven) fade(what string, t, high unit.Temperature) {
	at := brakes.FadeBegins.Value
	switch {
	case t >= at:
		o.r.say("%s is past the %s or so from which ordinary linings lose grip (published), and the fluid may boil: do not let it come to that.", what, ten(o.us, at))
	case high >= at:
		o.r.say("%s may pass the %s or so from which ordinary linings lose grip (published).", what, ten(o.us, at))
	default:
		return
	}
	o.r.Sources = append(o.r.Sources, sourceFigure(o.us, "fade begins", brakes.FadeBegins))
}

// glow says that the sums end where iron glows: it gives off its heat as light
// then, which Newton's cooling leaves out.
func (o *oven) glow(of ...unit.Temperature) {
	signs := brakes.HeatSigns()
	red := signs[len(signs)-1].From
	if slices.Max(of) < red.Value {
		return
	}
	o.r.say("From %s or so on iron glows and cools faster than is reckoned here. Numbers over that say one thing: far too hot.", ten(o.us, red.Value))
	o.r.Sources = append(o.r.Sources, sourceFigure(o.us, "glowing", red))
}

const roughIdea = "A rough idea, no forecast: wind, shields, weight of hub and pads, and how evenly the brakes share are not in it."

func runHeat(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	us := in.us("speed", "mass", "front-load", "rotor-mass", "drum-mass", "ambient")
	var r Result
	m, ok, err := in.massOfAll()
	if err != nil {
		return Result{}, err
	}
	if !ok {
		return Result{}, &InputError{"mass", fmt.Errorf("is needed: the weight of the vehicle as it is driven")}
	}
	from, _, err := in.speedOf("speed")
	if err != nil {
		return Result{}, err
	}
	to, have, err := between(in, "to-speed", 0, 400*unit.KilometrePerHour, "0 to 250 mph (400 km/h)")
	if err != nil {
		return Result{}, err
	}
	if !have {
		to = 0
	}
	turning, have, err := between(in, "turning", unit.Ratio(0), 1, "0 to 100 %, as 5 %")
	if err != nil {
		return Result{}, err
	}
	if !have {
		turning = 0
	}
	e, err := brakes.StopEnergy(m, from, to, turning)
	if err != nil {
		return Result{}, blame("to-speed", err)
	}
	o, err := ovenOf(in, us, &r)
	if err != nil {
		return Result{}, err
	}
	r.step("%s", movingEnergy(us, m, from, to, turning, e))
	r.Sources = append(r.Sources, "energy: that of a moving mass; drag of road and air left out, which is a little much")
	nan := math.NaN()
	values := map[string]float64{"energy_kj": e.Kilojoules()}
	if o.haveIrons {
		if err := o.stops(e, from, to, values); err != nil {
			return Result{}, err
		}
	} else {
		for _, name := range []string{"stops", "every", "swept-area"} {
			if len(in[name]) > 0 {
				return Result{}, &InputError{"rotor-mass", fmt.Errorf("is needed: the weight of one rotor, or --drum-mass")}
			}
		}
		r.say("How hot that makes them takes the weight of one: --rotor-mass or --drum-mass. A bathroom scale will do.")
	}
	for _, k := range heatKeys {
		v, ok := values[k]
		if !ok {
			v = nan
		}
		r.Values = append(r.Values, Value{Key: k, Number: v})
	}
	return r, nil
}

// movingEnergy is the line of the energy that the brakes take up.
func movingEnergy(us bool, m unit.Mass, from, to unit.Speed, turning unit.Ratio, e unit.Energy) string {
	squares, words := "("+perSecond(us, from)+")²", "v²"
	if to > 0 {
		squares, words = "["+squares+" - ("+perSecond(us, to)+")²]", "(v1² - v2²)"
	}
	if !us {
		return fmt.Sprintf("energy = m %s/2 = %s x %s/2%s = %s", words, inTwo(us, m), squares, turned(turning), inTwo(us, e))
	}
	return fmt.Sprintf("energy = m %s/(2 g) = %s x %s/(2 x 32.17 ft/s2)%s = %s = %s", words, inTwo(us, m), squares, turned(turning),
		unit.Format(unit.KindEnergy, float64(e), "ft-lb"), inTwo(us, e))
}

func turned(k unit.Ratio) string {
	if k == 0 {
		return ""
	}
	return fmt.Sprintf(" x (1 + %.4g)", float64(k))
}

// stops works out one stop and those that follow.
func (o *oven) stops(e unit.Energy, from, to unit.Speed, values map[string]float64) error {
	r, us, i := o.r, o.us, o.irons
	rise, err := i.Rise(e)
	if err != nil {
		return err
	}
	cool, err := o.low.Rise(e)
	if err != nil {
		return err
	}
	values["rise_per_stop_c"] = rise.CelsiusDegrees()
	inside := ""
	if i.Inside < 1 {
		inside = fmt.Sprintf(" x %.4g %%", i.Inside.Percent())
	}
	r.step("rise of each %s = %s x %.4g %%%s / (%d x %s x %s) = %s", o.what, inOwn(us, e), i.Axle.Percent(), inside, i.Count, inTwo(us, i.Each), inTwo(us, i.Heat), inTwo(us, rise))
	n, err := o.in.whole("stops")
	if err != nil {
		return err
	}
	every, haveEvery, err := between(o.in, "every", 1*unit.Second, 10*unit.Hour, "1 s to 10 h")
	if err != nil {
		return err
	}
	if len(o.in["stops"]) == 0 {
		n = 1
	}
	switch {
	case n < 1 || n > 1000:
		return &InputError{"stops", fmt.Errorf("%d: want 1 to 1000", n)}
	case n > 1 && !haveEvery:
		return &InputError{"every", fmt.Errorf("is needed: how long from one stop to the next?")}
	case !haveEvery:
		every = o.cooling // of no account in one stop
	}
	final, err := brakes.RepeatedStops(o.start, o.air, rise, every, o.cooling, n)
	if err != nil {
		return err
	}
	low, err := brakes.RepeatedStops(o.start, o.air, cool, every, o.quickest, n)
	if err != nil {
		return err
	}
	high, err := brakes.RepeatedStops(o.start, o.air, rise, every, o.slowest, n)
	if err != nil {
		return err
	}
	values["final_c"], values["final_low_c"], values["final_high_c"] = final.Celsius(), low.Celsius(), high.Celsius()
	if n > 1 {
		k := math.Exp(-float64(unit.Per(every, o.cooling)))
		r.step("from stop to stop %.0f s, cooling time %.0f s: what is over the air falls to r = e^(-%.0f/%.0f) = %.3f", every.Seconds(), o.cooling.Seconds(), every.Seconds(), o.cooling.Seconds(), k)
		if o.start == o.air {
			r.step("after %d stops: %s + %s x (1 - r^%d)/(1 - r) = %s", n, degreesTwo(us, o.air), wholeDegrees(us, rise), n, ten(us, final))
		} else {
			r.step("after %d stops: %s + %s x r^%d + %s x (1 - r^%d)/(1 - r) = %s", n, degreesTwo(us, o.air), wholeDegrees(us, o.start.Above(o.air)), n-1, wholeDegrees(us, rise), n, ten(us, final))
		}
		r.Sources = append(r.Sources, "stop after stop: sum of a geometric series with Newton's cooling; Limpert, Brake Design and Safety, chapter 3, has the form (from memory)")
	} else {
		r.step("from %s on: near %s", degreesTwo(us, o.start), ten(us, final))
	}
	r.Sources = append(r.Sources, "rise: heat in over what the iron holds")
	if n > 1 {
		r.say("After %d stops each %s is near %s. With iron and cooling reckoned low and high: %s.", n, o.what, ten(us, final), tenBand(us, low, high))
	} else {
		r.say("One such stop makes each %s hotter by about %s, to near %s.", o.what, tenDegrees(us, rise), ten(us, final))
		r.say("Reckoned low it would be %s.", ten(us, low))
	}
	hottest := high
	if haveEvery {
		endless, err := brakes.EndlessStops(o.air, rise, every, o.cooling)
		if err != nil {
			return err
		}
		values["endless_c"] = endless.Celsius()
		if n > 1 {
			r.say("Going on for ever at that pace it would level out near %s.", ten(us, endless))
			hottest = max(hottest, endless)
		}
	}
	o.fade("This", final, high)
	o.signs(final)
	o.glow(hottest)
	if err := o.skin(e, from, to, values); err != nil {
		return err
	}
	o.taken(n > 1)
	r.warn("%s", roughIdea)
	return nil
}

// skin works out the surface of one rotor. A stop that ends at a speed is the
// beginning of one to a stand, for the heat comes in as fast.
func (o *oven) skin(e unit.Energy, from, to unit.Speed, values map[string]float64) error {
	area, haveArea, err := between(o.in, "swept-area", unit.Area(1e-3), 1, "2 to 1,500 in2 (10 to 10,000 cm2)")
	if err != nil {
		return err
	}
	a, haveDecel, err := between(o.in, "decel", 0.01*unit.StandardGravity, 2*unit.StandardGravity, "0.01 to 2 g")
	if err != nil {
		return err
	}
	wall, haveWall, err := between(o.in, "wall", 1*unit.Millimetre, 100*unit.Millimetre, "0.04 to 4 in (1 to 100 mm)")
	if err != nil {
		return err
	}
	switch {
	case haveArea && !haveDecel:
		return &InputError{"decel", fmt.Errorf("is needed beside --swept-area: how hard does it brake?")}
	case haveDecel && !haveArea:
		return &InputError{"swept-area", fmt.Errorf("is needed beside --decel: it serves the skin of the rotor alone")}
	case haveWall && !haveArea:
		return &InputError{"swept-area", fmt.Errorf("is needed beside --wall: it serves the skin of the rotor alone")}
	case !haveArea:
		return nil
	}
	metal := brakes.Metal{Heat: o.irons.Heat, Density: brakes.IronDensity.Value, Conductivity: brakes.IronConductivity.Value}
	stop, whole := (from - to).Over(a), from.Over(a)
	one := unit.Energy(float64(e) * float64(o.irons.Axle) * float64(o.irons.Inside) / float64(o.irons.Count))
	kept := float64(unit.Per(to, from))
	toStand := unit.Energy(float64(one) / (1 - kept*kept))
	hottest := min(whole/2, stop)
	flash, err := brakes.FlashAt(toStand, area, whole, hottest, metal)
	if err != nil {
		return err
	}
	depth, err := brakes.HeatDepth(stop, metal)
	if err != nil {
		return err
	}
	r, us := o.r, o.us
	r.step("the stop takes %.1f s; heat gets some %s deep in that time", stop.Seconds(), inSmall(us, depth))
	if haveWall && depth > wall/2 {
		r.warn("The iron behind the face is only %s: heat comes through before the stop ends, so the skin cannot be told from the whole.", inSmall(us, wall))
		return nil
	}
	when := "Half way through"
	if to > 0 {
		when = "At its hottest"
		r.step("skin: as in the first %.1f s of a stop to a stand, which takes %.1f s and brings %s into %s: %s", hottest.Seconds(), whole.Seconds(), inTwo(us, toStand), areaTwo(us, area), inTwo(us, flash))
	} else {
		r.step("skin: 0.532 x (2 E/(A ts)) x sqrt(ts)/sqrt(k x density x c), E = %s into %s: %s", inTwo(us, one), areaTwo(us, area), inTwo(us, flash))
	}
	values["flash_rise_c"] = flash.CelsiusDegrees()
	r.say("%s, the rubbed skin is about %s hotter than before, for a second or two. That is the same heat, not yet spread.", when, tenDegrees(us, flash))
	if !haveWall {
		r.say("It holds for iron at least %s thick behind each face.", inSmall(us, 2*depth))
	}
	r.Sources = append(r.Sources, "skin: heat into a deep solid; Newcomb, J. Mech. Eng. Sci. 2, 1960 (from memory); one handbook has 0.527 for 0.532",
		sourceFigure(o.us, "density", brakes.IronDensity), sourceFigure(o.us, "conductivity", brakes.IronConductivity))
	return nil
}

func areaTwo(us bool, a unit.Area) string {
	i, c := fmt.Sprintf("%.0f in2", a.SquareInches()), fmt.Sprintf("%.0f cm2", a.SquareCentimetres())
	if us {
		return i + " (" + c + ")"
	}
	return c + " (" + i + ")"
}

// inSmall shows a depth in inches and millimetres.
func inSmall(us bool, l unit.Length) string {
	i, m := fmt.Sprintf("%.2f in", l.Inches()), fmt.Sprintf("%.0f mm", l.Millimetres())
	if us {
		return i + " (" + m + ")"
	}
	return m + " (" + i + ")"
}

// degreesTwo shows a temperature that was given.
func degreesTwo(us bool, t unit.Temperature) string {
	if us {
		return fmt.Sprintf("%.0f F (%.0f C)", t.Fahrenheit(), t.Celsius())
	}
	return fmt.Sprintf("%.0f C (%.0f F)", t.Celsius(), t.Fahrenheit())
}

// tenDegrees shows a rise, to ten degrees where it is more than that.
func tenDegrees(us bool, d unit.TempChange) string {
	round := func(v float64) float64 {
		if v < 15 {
			return math.Round(v)
		}
		return math.Round(v/10) * 10
	}
	f, c := fmt.Sprintf("%.0f F", round(d.FahrenheitDegrees())), fmt.Sprintf("%.0f C", round(d.CelsiusDegrees()))
	if us {
		return f + " (" + c + ")"
	}
	return c + " (" + f + ")"
}
