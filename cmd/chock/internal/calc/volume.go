package calc

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

var pedalVolume = Calculation{
	Name:    "pedal-volume",
	Command: "pedal",
	Title:   "What the fluid went into",
	Inputs: []Input{
		wanted(pedalMaster), wanted(pedalRatio),
		pedalFree, pedalPressed, pedalPumped, pedalWay, pedalWay2, pedalForce,
		{Name: "free-play", Kind: unit.KindLength, Optional: true, Typed: true, Say: "how far the pad goes before the rod moves"},
		{Name: "pressure", Kind: unit.KindPressure, Optional: true, Say: "line pressure at both, off a gauge; else worked out from --force"},
		{Name: "booster-gain", Kind: unit.KindRatio, Optional: true, Vehicle: "booster-gain", Say: "by how much the booster multiplies, below its knee"},
		boosterDiaphragm, boosterVacuum,
		{Name: "wheel-cylinder", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "rear-wheel-cylinder-left", Say: "bore of a rear wheel cylinder"},
		{Name: "front-wheel-cylinder", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "front-wheel-cylinder-left", Say: "bore of a front wheel cylinder, where drums are in front too"},
		{Name: "caliper", Kind: unit.KindLength, List: true, Optional: true, Typed: true, Vehicle: "front-piston-bore", Say: "piston of a front caliper; of a stepped one the pistons of one side, each once"},
		{Name: "pistons", Beside: "caliper", Kind: unit.KindCount, Optional: true, Vehicle: "front-pistons", Say: "how many such pistons on one side of the caliper (1 if not given)"},
		{Name: "retraction", Kind: unit.KindLength, Optional: true, Typed: true, Say: "budget: how far the two pads of a front wheel stand off the rotor together"},
		{Name: "clearance", Kind: unit.KindLength, Optional: true, Typed: true, Say: "budget: diameter of the drum less that of the shoes"},
		{Name: "front-yield", Kind: unit.KindLength, Optional: true, Typed: true, Say: "budget: how far a front caliper and its pads yield together under this foot"},
		{Name: "rear-yield", Kind: unit.KindLength, Optional: true, Typed: true, Say: "budget: how far a drum and its shoe yield under this foot, at one piston"},
		{Name: "hose", Kind: unit.KindLength, Optional: true, Typed: true, Say: "budget: free length of all hoses together"},
		{Name: "hose-bore", Kind: unit.KindLength, Optional: true, Typed: true, Say: "inside width of the hoses (1/8 in if not given)"},
		{Name: "hose-sort", Kind: unit.KindWord, Optional: true, Say: "regular or stiff, the low-expansion sort (regular if not given)"},
		{Name: "pipe", Kind: unit.KindLength, Optional: true, Typed: true, Say: "budget: length of all steel pipes together, 3/16 in by 0.028 in"},
		{Name: "fluid", Kind: unit.KindVolume, Optional: true, Say: "budget: fluid in cylinders, pipes and hoses, as 120 cc"},
		{Name: "air", Kind: unit.KindVolume, Optional: true, Say: "budget: air in it, as 1 cc"},
		{Name: "stroke", Kind: unit.KindLength, Optional: true, Typed: true, Say: "how far each piston of the master cylinder goes until it meets metal: what a lost circuit does"},
		{Name: "circuits", Kind: unit.KindWord, Optional: true, Vehicle: "circuits", Say: "one, two (front and rear) or diagonal"},
	},
	Keys: []string{"pressure_kpa", "volume_cc", "volume_doubt_cc", "gone_cc", "gone_doubt_cc", "stays_cc", "stays_doubt_cc",
		"air_cc", "air_doubt_cc", "air_quick_cc", "clearance_mm", "clearance_doubt_mm", "knock_back_mm", "knock_back_doubt_mm",
		"budget_retraction_cc", "budget_clearance_cc", "budget_front_yield_cc", "budget_rear_yield_cc", "budget_hose_cc", "budget_pipe_cc", "budget_fluid_cc", "budget_air_cc",
		"budget_cc", "budget_travel_mm", "budget_percent", "unexplained_cc",
		"front_gone_travel_mm", "rear_gone_travel_mm"},
	run: runPedalVolume,
}

// A fluid is what is known of the fluid that a pedal moved; NaN is unknown.
type fluid struct {
	in      inputs
	s       shower
	r       Result
	st      stroke
	bore    unit.Length
	area    unit.Area // of it
	pedal   unit.Ratio
	play    unit.Length
	uPlay   unit.Length // of it; 0 where none was read
	press   unit.Pressure
	front   unit.Area     // pistons of one side, one wheel
	shoes   []unit.Length // bores of all wheels with drums
	rears   []unit.Length // of the rear ones
	budget  brakes.Budget
	have    []string // items of the budget that were given
	missing []string
}

// An amountOf is a volume and its standard uncertainty.
type amountOf struct{ v, u unit.Volume }

func unknownAmount() amountOf {
	nan := unit.Volume(math.NaN())
	return amountOf{nan, nan}
}

func (a amountOf) known() bool { return !math.IsNaN(float64(a.v)) }

func runPedalVolume(raw map[string][]unit.Any) (Result, error) {
	f := &fluid{in: inputs(raw)}
	if err := f.read(); err != nil {
		return Result{}, err
	}
	if err := f.items(); err != nil {
		return Result{}, err
	}
	first, stays, gone, err := f.moved()
	if err != nil {
		return Result{}, err
	}
	ifs, err := f.ifs(first, stays, gone)
	if err != nil {
		return Result{}, err
	}
	budget, err := f.summed(first, stays)
	if err != nil {
		return Result{}, err
	}
	lost, err := f.lostCircuit(first)
	if err != nil {
		return Result{}, err
	}
	r := &f.r
	safety := brakes.Safety.Guard()
	r.Values = slices.Concat(Values{
		{Key: "pressure_kpa", Number: f.press.Kilopascals()},
		{Key: "volume_cc", Number: first.v.Millilitres()}, {Key: "volume_doubt_cc", Number: safety * first.u.Millilitres()},
		{Key: "gone_cc", Number: gone.v.Millilitres()}, {Key: "gone_doubt_cc", Number: safety * gone.u.Millilitres()},
		{Key: "stays_cc", Number: stays.v.Millilitres()}, {Key: "stays_doubt_cc", Number: safety * stays.u.Millilitres()},
	}, ifs, budget, lost)
	r.Sources = append(r.Sources, "pedal: law of the lever; fluid: conservation of volume, both circuits over one bore (force and volume balance)",
		"air: Boyle's law; quickly squeezed: textbooks on gases (from memory)",
		"clearance: geometry of a shoe that swings about its far end; our derivation")
	if len(f.have) > 0 {
		r.Sources = append(r.Sources, "budget item by item: after Limpert, Brake Design and Safety, chapter 5 (from memory)")
	}
	return *r, nil
}

// read takes the pedal, the master cylinder and what is behind the pressure.
func (f *fluid) read() (err error) {
	in := f.in
	f.s = in.showPedal("free", "pressed", "travel", "pumped-travel", "master")
	f.front, f.press = unit.Area(math.NaN()), unit.Pressure(math.NaN())
	if f.st, err = in.stroke(); err != nil {
		return err
	}
	f.bore, _ = in.length("master")
	f.pedal, _ = valueOf[unit.Ratio](in, "pedal-ratio")
	if f.area, err = brakes.PistonArea([]unit.Length{f.bore}); err != nil {
		return blame("master", err)
	}
	if _, err := brakes.PedalVolume(unit.Inch, f.pedal, f.bore); err != nil {
		return blame("pedal-ratio", err)
	}
	f.r.step("master cylinder = pi/4 x (%s)² = %s", f.s.bare(f.bore), amount(f.s, f.area))
	if len(in["free-play"]) > 0 {
		if f.play, f.uPlay, err = in.tape("free-play"); err != nil {
			return err
		}
	}
	if err := f.pressure(); err != nil {
		return err
	}
	return f.wheels()
}

// wheels takes the pistons.
func (f *fluid) wheels() error {
	in := f.in
	pistons, err := in.pistonsOfOneSide()
	if err != nil {
		return err
	}
	if pistons != nil {
		if f.front, err = brakes.PistonArea(pistons); err != nil {
			return blame("caliper", err)
		}
	}
	for _, name := range []string{"wheel-cylinder", "front-wheel-cylinder"} {
		d, ok := in.length(name)
		if !ok {
			continue
		}
		if _, err := brakes.DrumGap([]unit.Length{d}, 0); err != nil {
			return blame(name, err)
		}
		f.shoes = append(f.shoes, d, d)
		if name == "wheel-cylinder" {
			f.rears = []unit.Length{d, d}
		}
	}
	return nil
}

// pressure takes the line pressure off the gauge, or works it out.
func (f *fluid) pressure() error {
	in := f.in
	foot, haveFoot := valueOf[unit.Force](in, "force")
	if p, ok := valueOf[unit.Pressure](in, "pressure"); ok {
		if !(p > 0) || math.IsInf(float64(p), 0) {
			return &InputError{"pressure", fmt.Errorf("%v: want more than 0", p)}
		}
		f.press = p
		return nil
	}
	b, err := in.booster()
	if err != nil || !haveFoot {
		return err
	}
	f.r.Warnings = append(f.r.Warnings, b.warnings...)
	if !(foot > 0) || math.IsInf(float64(foot), 0) {
		return &InputError{"force", fmt.Errorf("%v: want more than 0", foot)}
	}
	rod, err := brakes.RodForce(foot, f.pedal)
	if err != nil {
		return blame("force", err)
	}
	out := rod
	if b.kind != noBooster {
		if out, err = b.out(rod, b.vacuum); err != nil {
			return err
		}
	}
	if f.press, err = brakes.LinePressure(out, f.bore); err != nil {
		return blame("master", err)
	}
	if b.kind == noBooster {
		f.r.step("line pressure = %.4g x %s / %s = %s", float64(f.pedal), own(f.s, foot), own(f.s, f.area), amount(f.s, f.press))
		return nil
	}
	f.r.step("the booster makes %s of %.4g x %s", amount(f.s, out), float64(f.pedal), own(f.s, foot))
	f.r.step("line pressure = %s / %s = %s", own(f.s, out), own(f.s, f.area), amount(f.s, f.press))
	f.r.warn("The booster is counted. Where the engine was off and its vacuum used up, give --vacuum 0 or --booster-gain 1.")
	return nil
}

// An item is one line of the budget.
type item struct {
	name, what string
	pressed    bool // needs the pressure
	to         *unit.Volume
	of         func() (how string, v unit.Volume, err error)
}

// items works out the items of the budget that were given.
func (f *fluid) items() error {
	b := &f.budget
	for _, i := range []item{
		{"retraction", "pads up to the rotors", false, &b.Retraction, func() (string, unit.Volume, error) { return f.yields("retraction") }},
		{"clearance", "shoes out to the rear drums", false, &b.Clearance, f.gap},
		{"front-yield", "front calipers and pads yield", false, &b.FrontGive, func() (string, unit.Volume, error) { return f.yields("front-yield") }},
		{"rear-yield", "rear drums and shoes yield", false, &b.RearGive, func() (string, unit.Volume, error) { return f.yields("rear-yield") }},
		{"hose", "hoses swell, at most", true, &b.Hoses, f.hoses},
		{"pipe", "steel pipes swell, as thick tubes", true, &b.Pipes, f.pipes},
		{"fluid", "the fluid itself is squeezed", true, &b.Fluid, f.squeezed},
		{"air", "air is squeezed", true, &b.Air, f.trapped},
	} {
		if len(f.in[i.name]) == 0 {
			f.missing = append(f.missing, strings.ReplaceAll(i.name, "-", " "))
			continue
		}
		if i.pressed && math.IsNaN(float64(f.press)) {
			return &InputError{i.name, fmt.Errorf("takes the pressure: give --pressure, or --force")}
		}
		how, v, err := i.of()
		if err != nil {
			return blame(i.name, err)
		}
		*i.to = v
		f.have = append(f.have, i.name)
		f.r.step("%s = %s = %s", i.what, how, amount(f.s, v))
	}
	for _, n := range []string{"hose-bore", "hose-sort"} {
		if len(f.in[n]) > 0 && len(f.in["hose"]) == 0 {
			return &InputError{n, fmt.Errorf("of how much hose? give --hose")}
		}
	}
	return nil
}

// yields is a way of all pistons of an axle: of pads up to the rotor, or of
// what yields under the foot.
func (f *fluid) yields(name string) (how string, v unit.Volume, err error) {
	x, _ := f.in.length(name)
	area, n := f.front, 2
	if name == "rear-yield" {
		if f.rears == nil {
			return "", 0, f.whichPistons(name, "wheel-cylinder")
		}
		area, n = unit.Circle(f.rears[0]), 4
	}
	if math.IsNaN(float64(area)) {
		return "", 0, f.whichPistons(name, "caliper")
	}
	// At the pressure of this foot: that is how far it was given for.
	v, err = brakes.Yielded(unit.Area(n)*area, x, unit.Pascal, unit.Pascal)
	return fmt.Sprintf("%d x %s x %s", n, own(f.s, area), f.small(x)), v, err
}

func (f *fluid) whichPistons(name, flag string) error {
	return &InputError{name, fmt.Errorf("of which pistons? give --%s", flag)}
}

// small is a gap in the person's own unit.
func (f *fluid) small(l unit.Length) string {
	name, _ := f.s.large()
	return unit.FormatTo(unit.KindLength, float64(l), name, 3)
}

func (f *fluid) gap() (how string, v unit.Volume, err error) {
	if f.rears == nil {
		return "", 0, f.whichPistons("clearance", "wheel-cylinder")
	}
	x, _ := f.in.length("clearance")
	v, err = brakes.DrumGap(f.rears, x)
	return fmt.Sprintf("%d x %s x %s", 2*len(f.rears), own(f.s, unit.Circle(f.rears[0])), f.small(x)), v, err
}

func (f *fluid) hoses() (how string, v unit.Volume, err error) {
	long, _ := f.in.length("hose")
	bore, ok := f.in.length("hose-bore")
	if !ok {
		bore = unit.Inch / 8
		f.r.warn("The hoses are taken as %s wide inside.", f.s.size(bore))
	}
	if _, err := brakes.HoseSwelled(0, bore, 0, false); err != nil {
		return "", 0, blame("hose-bore", err)
	}
	sort, err := f.in.word("hose-sort", "regular", "stiff")
	if err != nil {
		return "", 0, err
	}
	foot, err := brakes.HoseSwelled(unit.Foot, bore, f.press, sort == "stiff")
	if err != nil {
		return "", 0, err
	}
	f.r.warn("Hoses are counted with the most that a new one may swell. A sound one takes less, a soft old one more.")
	if f.press > 1500*unit.PSI*(1+1e-9) {
		f.r.warn("Beyond 1500 psi (10.3 MPa) what a hose may take is our estimate, and a new one may take more.")
	}
	f.r.Sources = append(f.r.Sources, fmt.Sprintf("hoses: %s (%s); beyond 1,500 psi the line goes on: our estimate", brakes.HoseMid1000.Source, brakes.HoseMid1000.Mark))
	v, err = brakes.HoseSwelled(long, bore, f.press, sort == "stiff")
	return fmt.Sprintf("%s x %s a foot", unit.FormatTo(unit.KindLength, float64(long), "ft", 2), unit.Format(unit.KindVolume, float64(foot), "cc")), v, err
}

func (f *fluid) pipes() (how string, v unit.Volume, err error) {
	const outer, wall = unit.Inch * 3 / 16, 28 * unit.Thou
	x, _ := f.in.length("pipe")
	v, err = brakes.PipeSwelled(x, outer, wall, f.press)
	f.r.Sources = append(f.r.Sources, fmt.Sprintf("pipes: %s (%s)", brakes.SteelModulus.Source, brakes.SteelModulus.Mark))
	inside := unit.Circle(outer - 2*wall).Times(x)
	share := 0.0
	if x > 0 {
		share = float64(unit.Per(v, inside))
	}
	return fmt.Sprintf("%s inside x %.2g", own(f.s, inside), share), v, err
}

func (f *fluid) squeezed() (how string, v unit.Volume, err error) {
	m := brakes.FluidModulus
	all, _ := valueOf[unit.Volume](f.in, "fluid")
	v, err = brakes.FluidSqueezed(all, f.press, m.Value)
	f.r.Sources = append(f.r.Sources, fmt.Sprintf("stiffness of the fluid %v: %s (%s)", m.Value, m.Source, m.Mark))
	return fmt.Sprintf("%s x %s / %s", own(f.s, all), own(f.s, f.press), own(f.s, m.Value)), v, err
}

func (f *fluid) trapped() (how string, v unit.Volume, err error) {
	pa := brakes.AtmosphereSea.Value
	air, _ := valueOf[unit.Volume](f.in, "air")
	v, err = brakes.AirSqueezed(air, f.press, pa, 1)
	return fmt.Sprintf("%s x (1 - %s / (%s + %s))", own(f.s, air), own(f.s, pa), own(f.s, pa), own(f.s, f.press)), v, err
}

// moved is the fluid of the first press, what stays of it after pumping and
// what pumping took away.
func (f *fluid) moved() (first, stays, gone amountOf, err error) {
	first, stays, gone = unknownAmount(), unknownAmount(), unknownAmount()
	of := func(travel, u unit.Length) (a amountOf, err error) {
		if f.play > travel {
			return a, &InputError{"free-play", fmt.Errorf("%s is more than the pedal went, %s", typed(f.in["free-play"][0]), f.own(travel))}
		}
		if a.v, err = brakes.PedalVolume(travel-f.play, f.pedal, f.bore); err == nil {
			a.u, err = brakes.PedalVolume(unit.Length(math.Hypot(float64(u), float64(f.uPlay))), f.pedal, f.bore)
		}
		return a, err
	}
	if w := f.st.first; w != nil {
		if first, err = of(w.travel, f.st.uTravel(w)); err != nil {
			return first, stays, gone, err
		}
		f.r.step("fluid of the first press = %s", f.product(w.travel, first.v))
	}
	if w := f.st.pumped; w != nil {
		if stays, err = of(w.travel, f.st.uTravel(w)); err != nil {
			return first, stays, gone, err
		}
		f.r.step("fluid when pumped = %s", f.product(w.travel, stays.v))
	}
	up, u := f.st.cameUp()
	if up < 0 {
		f.r.say("It went lower when pumped: no gap explains that. Leaks and the master cylinder first.")
	}
	if up >= 0 {
		if gone.v, err = brakes.PedalVolume(up, f.pedal, f.bore); err == nil {
			gone.u, err = brakes.PedalVolume(u, f.pedal, f.bore)
		}
		f.r.step("pumping took away %s x %s / %.4g = %s", own(f.s, f.area), f.own(up), float64(f.pedal), amount(f.s, gone.v))
	}
	if f.st.first == nil && f.st.pumped == nil && len(f.have) == 0 {
		v, err := brakes.PedalVolume(unit.Inch, f.pedal, f.bore)
		if err != nil {
			return first, stays, gone, err
		}
		f.r.step("each %s of pedal moves %s", f.s.pedal(unit.Inch), amount(f.s, v))
		f.r.say("With readings of the pedal there is more to say: --free and --pressed, or --travel.")
	}
	return first, stays, gone, err
}

// own is a length at the pedal in the person's own unit.
func (f *fluid) own(l unit.Length) string {
	name, _ := f.s.large()
	return pedalOne(l, name)
}

// product writes out how a way of the pad becomes fluid.
func (f *fluid) product(travel unit.Length, v unit.Volume) string {
	way := f.own(travel)
	if f.play > 0 {
		way = fmt.Sprintf("(%s - %s free play)", f.s.pedalBare(travel), f.own(f.play))
	}
	return fmt.Sprintf("%s x %s / %.4g = %s", own(f.s, f.area), way, float64(f.pedal), amount(f.s, v))
}

// ifs says what the fluid would mean if it were all one thing. What pumping
// took away was a gap; what stays is air, or what yields. Not pumped, the
// whole of it is shown either way. What a budget explains otherwise is taken
// off first.
func (f *fluid) ifs(first, stays, gone amountOf) (Values, error) {
	nan := math.NaN()
	air, quick, uAir, clear, uClear, knock, uKnock := nan, nan, nan, nan, nan, nan, nan
	gap, spring := gone, stays
	b := f.budget
	forClearance, forKnock, forAir := unit.Volume(0), b.Gaps(), b.Stays()-b.Air
	if f.st.pumped == nil {
		gap, spring = first, first
		forClearance, forKnock, forAir = b.Stays(), b.Total(), b.Total()-b.Air
	}
	if f.st.first == nil {
		gap = unknownAmount()
	}
	r := &f.r
	if (gap.known() || spring.known()) && (f.st.first != nil || f.st.pumped != nil) {
		r.say("If it were all one thing, it would be this much. Each is an explanation, not a finding.")
	}
	if gap.known() && len(f.shoes) > 0 {
		left := f.less("clearance", gap.v, forClearance)
		c, err := brakes.ClearanceBehind(left, f.shoes)
		if err != nil {
			return nil, err
		}
		u, err := brakes.ClearanceBehind(gap.u, f.shoes)
		if err != nil {
			return nil, err
		}
		clear, uClear = c.Millimetres(), brakes.Safety.Guard()*u.Millimetres()
		r.step("as drum clearance: %s over %d pistons of the shoes = %s of diameter", own(f.s, left), 2*len(f.shoes), f.s.one2(c))
		r.say("All clearance: the shoes stand %s under the drum in diameter, %s.", f.s.one2(c), giveOrTake(f.s.one2(u*unit.Length(brakes.Safety.Guard()))))
	}
	if gap.known() && !math.IsNaN(float64(f.front)) {
		left := f.less("pads pushed back", gap.v, forKnock)
		k, err := brakes.KnockBehind(left, 2*f.front)
		if err != nil {
			return nil, err
		}
		u, err := brakes.KnockBehind(gap.u, 2*f.front)
		if err != nil {
			return nil, err
		}
		knock, uKnock = k.Millimetres(), brakes.Safety.Guard()*u.Millimetres()
		r.step("as pads pushed back: %s over the pistons of both front wheels = %s", own(f.s, left), f.s.one2(k))
		r.say("All pads pushed back: %s at each front wheel, both pads together, %s.", f.s.one2(k), giveOrTake(f.s.one2(u*unit.Length(brakes.Safety.Guard()))))
	}
	if spring.known() {
		var err error
		if air, quick, uAir, err = f.air(spring, forAir); err != nil {
			return nil, err
		}
	}
	return Values{
		{Key: "air_cc", Number: air}, {Key: "air_doubt_cc", Number: uAir}, {Key: "air_quick_cc", Number: quick},
		{Key: "clearance_mm", Number: clear}, {Key: "clearance_doubt_mm", Number: uClear},
		{Key: "knock_back_mm", Number: knock}, {Key: "knock_back_doubt_mm", Number: uKnock},
	}, nil
}

// one2 is a small gap in both systems.
func (s shower) one2(l unit.Length) string {
	in, mm := unit.FormatTo(unit.KindLength, float64(l), "in", 3), unit.FormatTo(unit.KindLength, float64(l), "mm", 2)
	if s.inch {
		return in + " (" + mm + ")"
	}
	return mm + " (" + in + ")"
}

func giveOrTake(doubt string) string { return "give or take " + doubt }

// less takes off what the budget explains otherwise.
func (f *fluid) less(what string, v, other unit.Volume) unit.Volume {
	left := max(0, v-other)
	if other > 0 {
		f.r.step("left for %s beside the budget: %s - %s = %s", what, own(f.s, v), own(f.s, other), amount(f.s, left))
	}
	return left
}

// air is how much air would give up what stays, less what the budget explains
// otherwise: in cc, slowly squeezed and quickly.
func (f *fluid) air(spring amountOf, other unit.Volume) (air, quick, u float64, err error) {
	left := f.less("air", spring.v, other)
	r := &f.r
	if math.IsNaN(float64(f.press)) {
		r.step("as air: at least %s, for air gives up no more than it is", amount(f.s, left))
		r.say("All air: at least %s. How much more takes the force of the foot, or the pressure.", aboutVolume(f.s, left))
		return left.Millilitres(), math.NaN(), brakes.Safety.Guard() * spring.u.Millilitres(), nil
	}
	slow, err := brakes.AirBehind(left, f.press, brakes.AtmosphereSea.Value, 1)
	if err != nil {
		return 0, 0, 0, err
	}
	fast, err := brakes.AirBehind(left, f.press, brakes.AtmosphereSea.Value, brakes.AirQuick.Value)
	if err != nil {
		return 0, 0, 0, err
	}
	doubt, err := brakes.AirBehind(spring.u, f.press, brakes.AtmosphereSea.Value, 1)
	if err != nil {
		return 0, 0, 0, err
	}
	u = brakes.Safety.Guard() * doubt.Millilitres()
	r.step("as air: %s / (1 - %s / (%s + %s)) = %s", own(f.s, left), own(f.s, brakes.AtmosphereSea.Value), own(f.s, brakes.AtmosphereSea.Value), own(f.s, f.press), amount(f.s, slow))
	r.say("All air: about %s, %s.", aboutVolume(f.s, slow), giveOrTake(aboutVolume(f.s, unit.Volume(u)*unit.Millilitre)))
	if hoses := f.budget.Hoses; hoses > 0 {
		// They are counted with the most that they may take, so this is the least.
		most, err := brakes.AirBehind(max(0, spring.v-(other-hoses)), f.press, brakes.AtmosphereSea.Value, 1)
		if err != nil {
			return 0, 0, 0, err
		}
		r.say("Hoses that swell less than their most leave more air: up to %s.", aboutVolume(f.s, most))
	}
	if other == 0 {
		r.say("Hoses, pads and calipers take some of it on every vehicle, so there is less air than that, or none.")
	}
	return slow.Millilitres(), fast.Millilitres(), u, nil
}

// aboutVolume is a volume to one decimal of a cc: more would be show.
func aboutVolume(s shower, v unit.Volume) string {
	cc, in := unit.FormatTo(unit.KindVolume, float64(v), "cc", 1), unit.FormatTo(unit.KindVolume, float64(v), "in3", 2)
	if s.inch {
		return in + " (" + cc + ")"
	}
	return cc + " (" + in + ")"
}

// summed adds up the budget, and holds it beside what was read.
func (f *fluid) summed(first, stays amountOf) (Values, error) {
	nan := math.NaN()
	line := func(key, name string, v unit.Volume) Value {
		if !slices.Contains(f.have, name) {
			return Value{Key: "budget_" + key + "_cc", Number: nan}
		}
		return Value{Key: "budget_" + key + "_cc", Number: v.Millilitres()}
	}
	b := f.budget
	out := Values{
		line("retraction", "retraction", b.Retraction), line("clearance", "clearance", b.Clearance),
		line("front_yield", "front-yield", b.FrontGive), line("rear_yield", "rear-yield", b.RearGive),
		line("hose", "hose", b.Hoses), line("pipe", "pipe", b.Pipes), line("fluid", "fluid", b.Fluid), line("air", "air", b.Air),
	}
	total, travel, share, rest := nan, unit.Length(nan), nan, nan
	if len(f.have) > 0 {
		var err error
		total = b.Total().Millilitres()
		if travel, err = brakes.PedalTravel(b.Total(), f.pedal, f.bore, f.play); err != nil {
			return nil, err
		}
		r := &f.r
		r.step("budget in all: %s", amount(f.s, b.Total()))
		r.step("at the pad = %.4g x %s / %s%s = %s", float64(f.pedal), own(f.s, b.Total()), own(f.s, f.area), f.playPlus(), f.s.pedal(travel))
		if !math.IsNaN(float64(f.st.free)) {
			share = unit.Per(travel, f.st.free).Percent()
		}
		r.say("By the budget the pedal goes %s.", f.s.pedal(travel))
		if f.st.first != nil {
			diff := first.v - b.Total()
			rest = diff.Millilitres()
			word := "more"
			if diff < 0 {
				word = "less"
			}
			r.say("It went %s: %s of fluid %s than the budget has.", f.s.pedal(f.st.first.travel), aboutVolume(f.s, unit.Volume(math.Abs(float64(diff)))), word)
		}
		if len(f.missing) > 0 {
			r.say("Not given, so not in it: %s.", strings.Join(f.missing, ", "))
		}
	}
	return append(out, Value{Key: "budget_cc", Number: total}, Value{Key: "budget_travel_mm", Number: travel.Millimetres()},
		Value{Key: "budget_percent", Number: share}, Value{Key: "unexplained_cc", Number: rest}), nil
}

func (f *fluid) playPlus() string {
	if f.play == 0 {
		return ""
	}
	return " + " + f.own(f.play) + " free play"
}

// lostCircuit says where the pedal goes when a circuit has lost its fluid.
func (f *fluid) lostCircuit(first amountOf) (Values, error) {
	nan := unit.Length(math.NaN())
	frontGone, rearGone := nan, nan
	out := func() Values {
		return Values{{Key: "front_gone_travel_mm", Number: frontGone.Millimetres()}, {Key: "rear_gone_travel_mm", Number: rearGone.Millimetres()}}
	}
	if len(f.in["stroke"]) == 0 {
		return out(), nil
	}
	circuits, err := f.in.word("circuits", "one", "two", "diagonal")
	if err != nil {
		return nil, err
	}
	if circuits == "one" {
		return nil, &InputError{"stroke", fmt.Errorf("with one circuit for all wheels nothing is left when it fails")}
	}
	stroke, _ := f.in.length("stroke")
	m := brakes.Tandem{First: f.bore, Second: f.bore, FirstStroke: stroke, SecondStroke: stroke}
	if !(stroke > 0) || math.IsInf(float64(stroke), 0) {
		return nil, &InputError{"stroke", fmt.Errorf("%s: want more than 0", typed(f.in["stroke"][0]))}
	}
	front, rear, how := f.split(first, circuits)
	if how == "" {
		return nil, &InputError{"stroke", fmt.Errorf("takes a press of the pedal, or a budget, to know what the other circuit needs")}
	}
	// Which circuit the first section feeds does not matter with one bore and
	// one stroke.
	withoutFront, _, err := m.WithoutFirst(front, rear)
	if err != nil {
		return nil, blame("stroke", err)
	}
	withoutRear, _, err := m.WithoutSecond(front, rear)
	if err != nil {
		return nil, blame("stroke", err)
	}
	pad := func(rod unit.Length) unit.Length { return f.play + unit.Length(float64(f.pedal)*float64(rod)) }
	frontGone, rearGone = pad(withoutFront), pad(withoutRear)
	r := &f.r
	one, other := "front", "rear"
	if circuits == "diagonal" {
		one, other = "one", "other"
	}
	r.step("%s circuit gone: %.4g x (stroke %s + %s / %s)%s = %s", one, float64(f.pedal), f.own(stroke), own(f.s, rear), own(f.s, f.area), f.playPlus(), f.s.pedal(frontGone))
	r.step("%s circuit gone: %.4g x (stroke %s + %s / %s)%s = %s", other, float64(f.pedal), f.own(stroke), own(f.s, front), own(f.s, f.area), f.playPlus(), f.s.pedal(rearGone))
	r.say("With the %s circuit gone the pedal goes %s.", one, f.s.pedal(frontGone))
	r.say("With the %s one gone it goes %s.", other, f.s.pedal(rearGone))
	r.say("That is %s", how)
	if low := max(frontGone, rearGone); !math.IsNaN(float64(f.st.free)) && low >= f.st.free {
		r.say("The longer one is the floor or past it: then nothing is left.")
	}
	r.say("It is a reason not to drive on one circuit, never a comfort: half of the brakes stop late.")
	return out(), nil
}

// split is what each circuit takes. What the budget does not give to an axle
// is shared; without a budget so is all of it.
func (f *fluid) split(first amountOf, circuits string) (front, rear unit.Volume, how string) {
	b := f.budget
	switch {
	case len(f.have) > 0:
		shared := b.Hoses + b.Pipes + b.Fluid + b.Air
		front, rear = b.Retraction+b.FrontGive+shared/2, b.Clearance+b.RearGive+shared/2
		how = "by the budget, hoses, pipes, fluid and air halved."
	case first.known():
		front, rear = first.v/2, first.v/2
		how = "as if both took half of what the first press moved."
	default:
		return 0, 0, ""
	}
	if circuits == "diagonal" {
		front, rear = (front+rear)/2, (front+rear)/2
	}
	return front, rear, how
}
