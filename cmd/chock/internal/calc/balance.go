package calc

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

var axleBalance = Calculation{
	Name:    "axle-balance",
	Command: "balance",
	Short:   "front brakes against rear: grip used, which wheels lock first, what one lost circuit leaves",
	Title:   "Front brakes against rear",
	Inputs:  balanceInputs,
	Keys:    balanceKeys,
	run:     runBalance,
}

var balanceInputs = slices.Concat([]Input{
	{Name: "front-load", Kind: unit.KindMass, Optional: true, Vehicle: "front-load-empty", Say: "what the front axle weighs, both wheels, as driven"},
	{Name: "rear-load", Kind: unit.KindMass, Optional: true, Vehicle: "rear-load-empty", Say: "what the rear axle weighs"},
	{Name: "front-load-full", Kind: unit.KindMass, Optional: true, Vehicle: "front-load-full", Say: "the same fully loaded, to see both"},
	{Name: "rear-load-full", Kind: unit.KindMass, Optional: true, Vehicle: "rear-load-full", Say: "the rear axle fully loaded"},
	{Name: "wheelbase", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "wheelbase", Say: "from axle to axle"},
	{Name: "centre-height", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "centre-height", Say: "height of the centre of gravity over the ground"},
	{Name: "centre-height-full", Kind: unit.KindLength, Optional: true, Typed: true, Say: "the same fully loaded (taken as the same if not given)"},
	{Name: "rolling", Kind: unit.KindRatio, Optional: true, Say: "resistance of the rolling tyres over the weight, as 0.02 (left out if not given)"},
	{Name: "decel", Kind: unit.KindAcceleration, Optional: true, Default: "g", Say: "the deceleration to look at, as 0.5g"},
	{Name: "pressure", Kind: unit.KindPressure, Optional: true, Say: "in its place: the line pressure to look at"},
	{Name: "surface", Kind: unit.KindRatio, Optional: true, Say: "friction between tyre and road (0.8, a dry one, if not given)"},
	{Name: "rear-share", Kind: unit.KindRatio, Optional: true, Say: "the rear's share of all brake force, as 30 %, in place of the parts"},
}, axleInputs("front"), axleInputs("rear"), []Input{
	{Name: "valve-knee", Kind: unit.KindPressure, Optional: true, Vehicle: "valve-knee", Say: "line pressure at which the valve for the rear begins to hold back"},
	{Name: "valve-slope", Kind: unit.KindRatio, Optional: true, Vehicle: "valve-slope", Say: "share of a further rise that it lets through"},
	{Name: "new-wheel-cylinder", Kind: unit.KindLength, Optional: true, Typed: true, Say: "another bore of the rear wheel cylinders"},
	{Name: "circuits", Kind: unit.KindWord, Optional: true, Vehicle: "circuits", Say: "one, two (front and rear) or diagonal"},
	{Name: "booster-gain", Kind: unit.KindRatio, Optional: true, Vehicle: "booster-gain", Say: "by how much the booster multiplies, below its run-out"},
	{Name: "front-track", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "front-track", Say: "from tyre to tyre, middle to middle: how a diagonal circuit turns the vehicle"},
	{Name: "rear-track", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "rear-track", Say: "the same behind"},
})

var balanceKeys = []string{"weight_n", "rear_weight_share_percent", "rear_share_percent", "rear_share_low_percent", "rear_share_high_percent",
	"deceleration_g", "line_pressure_kpa", "rear_pressure_kpa", "front_load_n", "rear_load_n", "front_force_n", "rear_force_n",
	"ideal_rear_share_percent", "front_adhesion", "rear_adhesion", "first_to_lock", "efficiency_percent",
	"critical_g", "critical_low_g", "critical_high_g", "order",
	"surface", "surface_first_to_lock", "front_lock_g", "rear_lock_g", "best_g", "surface_efficiency_percent",
	"curve", "loaded", "without_valve", "new_wheel_cylinder",
	"front_only_g", "rear_only_g", "diagonal_g", "front_only_same_foot_g", "rear_only_same_foot_g", "diagonal_same_foot_g", "diagonal_yaw_nm",
	"no_booster_g", "rules"}

// needed is the error of an input that is missing.
func needed(name, before string) error {
	i := slices.IndexFunc(balanceInputs, func(i Input) bool { return i.Name == name })
	return &InputError{name, fmt.Errorf("is needed%s: %s", before, balanceInputs[i].Say)}
}

// axleInputs are the parts of the brakes of one axle.
func axleInputs(axle string) []Input {
	id := func(name string) string { return axle + "-" + name }
	return []Input{
		{Name: id("brake"), Kind: unit.KindWord, Optional: true, Vehicle: id("brake"), Say: "disc or drum (what else is given tells)"},
		{Name: id("friction"), Kind: unit.KindRatio, Optional: true, Vehicle: id("friction"), Say: "friction of the " + axle + " linings"},
		{Name: id("caliper"), Kind: unit.KindLength, List: true, Optional: true, Typed: true, Vehicle: id("piston-bore"), Say: "piston of a " + axle + " caliper; of a stepped one the pistons of one side"},
		{Name: id("pistons"), Beside: id("caliper"), Kind: unit.KindCount, Optional: true, Vehicle: id("pistons"), Say: "how many such pistons on one side (1 if not given)"},
		{Name: id("effective-radius"), Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: id("effective-radius"), Say: "from the middle of the wheel to the middle of the pads"},
		{Name: id("wheel-cylinder"), Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: id("wheel-cylinder-left"), Say: "bore of a " + axle + " wheel cylinder"},
		{Name: id("drum"), Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: id("drum-new"), Say: "diameter of a " + axle + " drum"},
		{Name: id("shoes"), Kind: unit.KindWord, Optional: true, Vehicle: id("drum-shoes"), Say: "leading-trailing, twin-leading or duo-servo"},
		{Name: id("factor"), Kind: unit.KindRatio, Optional: true, Say: "brake factor: friction force over the force on one shoe or pad, in place of the usual one"},
		{Name: id("gain"), Kind: unit.KindVolume, Optional: true, Say: "torque of one " + axle + " brake over line pressure, in place of its parts: 20 in-lb for each psi is 20in3, 16 Nm for each MPa is 16cc"},
		{Name: id("tyre"), Kind: unit.KindWord, Optional: true, Vehicle: id("tyre"), Say: "size of the " + axle + " tyres, as on the sidewall"},
		{Name: id("tyre-radius"), Kind: unit.KindLength, Optional: true, Typed: true, Say: "in its place: from the middle of the wheel to the ground"},
	}
}

// A balancing is what is known so far of a vehicle's balance.
type balancing struct {
	in    inputs
	s     shower
	r     Result
	body  brakes.Body
	split brakes.Split
	// What the split may be, where it was worked out of parts: with the
	// friction of the linings a little off at each axle.
	maybe []brakes.Split
	doubt string // the same in words
	real  bool   // pressures mean something
	mu    unit.Ratio
	z     unit.Ratio
	now   brakes.Balance
	lock  brakes.Lock
}

// largest is what no road vehicle has more of: beyond it a number was typed in
// another unit. In SI.
var largest = map[string]float64{
	"front-load": 20e3, "rear-load": 20e3, "front-load-full": 20e3, "rear-load-full": 20e3,
	"wheelbase": 12, "centre-height": 4, "centre-height-full": 4, "front-track": 4, "rear-track": 4,
	"pressure": 50e6, "valve-knee": 50e6, "booster-gain": 30,
	"front-caliper": 0.2, "rear-caliper": 0.2, "front-wheel-cylinder": 0.2, "rear-wheel-cylinder": 0.2, "new-wheel-cylinder": 0.2,
	"front-effective-radius": 0.5, "rear-effective-radius": 0.5, "front-drum": 1, "rear-drum": 1, "front-factor": 20, "rear-factor": 20,
	"front-gain": 0.01, "rear-gain": 0.01, "front-tyre-radius": 1.5, "rear-tyre-radius": 1.5,
}

func runBalance(raw map[string][]unit.Any) (Result, error) {
	c := &balancing{in: inputs(raw)}
	for _, i := range balanceInputs {
		for _, a := range c.in[i.Name] {
			if most, ok := largest[i.Name]; ok && a.SI > most {
				return Result{}, &InputError{i.Name, fmt.Errorf("%s is more than a road vehicle has: was it typed in another unit?", a.Both())}
			}
		}
	}
	c.s = shower{inch: c.in.customary("front-load", "rear-load", "wheelbase", "centre-height", "front-load-full", "front-caliper", "front-wheel-cylinder")}
	var v Values
	for _, part := range []func() (Values, error){c.stand, c.brakes, c.moment, c.turns, c.road, c.curve, c.loaded, c.valveGone, c.otherBore, c.circuitLost, c.boosterLost, c.rules} {
		more, err := part()
		if err != nil {
			return Result{}, err
		}
		v = append(v, more...)
	}
	// In the order of the table.
	for _, key := range balanceKeys {
		i := slices.IndexFunc(v, func(x Value) bool { return x.Key == key })
		if i < 0 {
			c.r.Values = append(c.r.Values, Value{Key: key, Number: math.NaN()})
			continue
		}
		c.r.Values = append(c.r.Values, v[i])
	}
	c.r.warn("Left out: springs and tyres that give, air and engine that brake too, heat, the pressure that return springs take, left against right.")
	c.r.warn("A computed balance explains. It does not say that the vehicle stops. Its manual and a qualified technician come first.")
	c.r.Sources = append(c.r.Sources,
		"axle loads: balance of moments on a level road; grip used: brake force over load, as UN Regulation No. 13-H, annex 5, has it (from memory)")
	return c.r, nil
}

// g shows a deceleration over gravity.
func g(z unit.Ratio) string { return fmt.Sprintf("%.2f g", float64(z)) }

// gBoth shows it in both systems.
func gBoth(z unit.Ratio) string {
	return fmt.Sprintf("%.2f g (%.2f m/s2)", float64(z), float64(z)*float64(unit.StandardGravity))
}

func partOf(r unit.Ratio) string { return fmt.Sprintf("%.1f %%", r.Percent()) }

// standing shows a load on the scales.
func (c *balancing) standing(f unit.Force) string {
	m := unit.Mass(float64(f) / float64(unit.StandardGravity))
	lb, kg := fmt.Sprintf("%.0f lb", m.Pounds()), fmt.Sprintf("%.0f kg", m.Kilograms())
	if c.s.inch {
		return lb + " (" + kg + ")"
	}
	return kg + " (" + lb + ")"
}

// size shows a length of the vehicle, bareSize in the person's own system.
func (c *balancing) size(l unit.Length) string {
	if c.s.inch {
		return fmt.Sprintf("%.4g in (%.4g mm)", l.Inches(), l.Millimetres())
	}
	return fmt.Sprintf("%.4g mm (%.4g in)", l.Millimetres(), l.Inches())
}

func (c *balancing) bareSize(l unit.Length) string {
	own, _, _ := strings.Cut(c.size(l), " (")
	return own
}

// stand reads how the vehicle stands on its axles.
func (c *balancing) stand() (Values, error) {
	load := func(name string) (unit.Force, bool) {
		m, ok := valueOf[unit.Mass](c.in, name)
		return m.Weight(), ok
	}
	front, haveFront := load("front-load")
	rear, haveRear := load("rear-load")
	if !haveFront && !haveRear {
		front, haveFront = load("front-load-full")
		rear, haveRear = load("rear-load-full")
		if haveFront && haveRear {
			c.r.warn("Only the loads of the full vehicle are known: what follows is that of the full one. Empty, the rear wheels lock sooner.")
			delete(c.in, "front-load-full")
			delete(c.in, "rear-load-full")
		}
	}
	base, haveBase := c.in.length("wheelbase")
	height, haveHeight := c.in.length("centre-height")
	for _, need := range []struct {
		name string
		have bool
	}{{"front-load", haveFront}, {"rear-load", haveRear}, {"wheelbase", haveBase}, {"centre-height", haveHeight}} {
		if !need.have {
			return nil, needed(need.name, "")
		}
	}
	rolling, haveRolling := valueOf[unit.Ratio](c.in, "rolling")
	if !haveRolling {
		rolling = 0
	}
	c.body = brakes.Body{Front: front, Rear: rear, Wheelbase: base, CentreHeight: height, Rolling: rolling}
	if err := c.checkBody(c.body, "front-load", "rear-load", "wheelbase", "centre-height"); err != nil {
		return nil, err
	}
	if c.body.Rolling > 0 {
		if _, _, err := c.body.Loads(0); err != nil {
			return nil, blame("rolling", err)
		}
	}
	c.r.step("standing: front %s, rear %s", c.standing(front), c.standing(rear))
	c.r.step("rear share of the weight = %s / %s = %s", own(c.s, rear), own(c.s, c.body.Weight()), partOf(c.body.RearShare()))
	c.r.step("height over wheelbase = %s / %s = %.3f", c.bareSize(height), c.bareSize(base), float64(c.body.Steepness()))
	if haveRolling {
		c.r.step("rolling resistance = %.4g of the weight", float64(rolling))
	}
	return Values{{Key: "weight_n", Number: c.body.Weight().Newtons()}, {Key: "rear_weight_share_percent", Number: c.body.RearShare().Percent()}}, nil
}

// checkBody blames the flag whose value no body can have.
func (c *balancing) checkBody(b brakes.Body, front, rear, base, height string) error {
	sound := brakes.Body{Front: 1e4, Rear: 1e4, Wheelbase: 3, CentreHeight: 0.5}
	for _, one := range []struct {
		flag string
		set  func(x *brakes.Body)
	}{
		{front, func(x *brakes.Body) { x.Front = b.Front }}, {rear, func(x *brakes.Body) { x.Rear = b.Rear }},
		{base, func(x *brakes.Body) { x.Wheelbase = b.Wheelbase }}, {height, func(x *brakes.Body) { x.CentreHeight = b.CentreHeight }},
		{"rolling", func(x *brakes.Body) { x.Rolling = b.Rolling }},
	} {
		x := sound
		one.set(&x)
		if _, _, err := x.Loads(0); err != nil {
			return blame(one.flag, err)
		}
	}
	if b.CentreHeight >= b.Wheelbase {
		return &InputError{height, fmt.Errorf("%v is more than the wheelbase, %v: was it typed in another unit?", b.CentreHeight, b.Wheelbase)}
	}
	return nil
}

// A wheel is one brake of an axle: the torque that it makes of pressure.
type wheel struct {
	gain    func(off unit.Ratio) (unit.Volume, error) // with the lining's friction off by so much
	offs    bool                                      // gain depends on a friction
	flag    string                                    // to blame
	usual   string                                    // what was taken for want of better, in words
	radius  unit.Length                               // of the tyre, NaN where it is not known
	size    string                                    // as on its sidewall
	formula string
}

// brakes works out how the brakes share their force.
func (c *balancing) brakes() (Values, error) {
	given, haveShare := valueOf[unit.Ratio](c.in, "rear-share")
	var err error
	if haveShare {
		if c.split, err = brakes.ShareSplit(given); err != nil {
			return nil, blame("rear-share", err)
		}
		c.r.step("rear share of the brake force, as given = %s", partOf(given))
		if len(c.in["valve-knee"]) > 0 {
			c.r.warn("The valve is left out: its pressure means nothing where only the share is known. Give the parts of both axles in its place.")
		}
		return Values{{Key: "rear_share_percent", Number: given.Percent()}}, nil
	}
	front, err := c.wheel("front")
	if err != nil {
		return nil, err
	}
	rear, err := c.wheel("rear")
	if err != nil {
		return nil, err
	}
	if err := c.tyres(&front, &rear); err != nil {
		return nil, err
	}
	gains := func(offFront, offRear unit.Ratio) (s brakes.Split, err error) {
		one := func(w wheel, off unit.Ratio) (unit.Area, error) {
			t, err := w.gain(off)
			if err != nil {
				return 0, blame(w.flag, err)
			}
			return brakes.RoadGainOf(t, w.radius)
		}
		if s.Front, err = one(front, offFront); err == nil {
			s.Rear, err = one(rear, offRear)
		}
		return s, err
	}
	if c.split, err = gains(0, 0); err != nil {
		return nil, err
	}
	valve, err := c.valve()
	if err != nil {
		return nil, err
	}
	c.split.Valve = valve
	for _, w := range []struct {
		axle string
		wheel
		gain unit.Area
	}{{"front", front, c.split.Front}, {"rear", rear, c.split.Rear}} {
		t, _ := w.wheel.gain(0)
		c.r.step("%s, one brake%s = %s", w.axle, w.formula, c.forEach(t))
		if c.real {
			c.r.step("%s, both wheels at the road = 2 x %s / %s = %s", w.axle, c.forEach(t), c.bareSize(w.radius), c.roadGain(w.gain))
		}
	}
	c.r.step("rear share of the brake force = %s / (%s + %s) = %s", c.bareGain(c.split.Rear), c.bareGain(c.split.Front), c.bareGain(c.split.Rear), partOf(c.split.Share()))
	out := Values{{Key: "rear_share_percent", Number: c.split.Share().Percent()}}
	if !front.offs && !rear.offs {
		return out, nil
	}
	low, high := c.split.Share(), c.split.Share()
	off := brakes.LiningFrictionApart.Value
	for _, o := range [][2]unit.Ratio{{off, -off}, {-off, off}, {off, off}, {-off, -off}} {
		s, err := gains(o[0], o[1])
		if err != nil {
			return nil, err
		}
		s.Valve = valve
		c.maybe = append(c.maybe, s)
		low, high = min(low, s.Share()), max(high, s.Share())
	}
	c.doubt = fmt.Sprintf("The rear share, %s, rests on the friction of the linings, which nobody measures. With %.2f more or less at each axle it is %s to %s.",
		partOf(c.split.Share()), float64(off), partOf(low), partOf(high))
	switch {
	case front.usual == rear.usual && rear.usual != "":
		c.doubt = "Taken at both axles for want of better: " + rear.usual + ". " + c.doubt
	case front.usual != "" && rear.usual != "":
		c.doubt = "Taken for want of better: in front " + front.usual + ", behind " + rear.usual + ". " + c.doubt
	case front.usual+rear.usual != "":
		c.doubt = "Taken for want of better: " + front.usual + rear.usual + ". " + c.doubt
	}
	c.r.Sources = append(c.r.Sources, fmt.Sprintf("linings %.2f more or less: %s (%s)", float64(off), brakes.LiningFrictionApart.Source, brakes.LiningFrictionApart.Mark))
	return append(out, Value{Key: "rear_share_low_percent", Number: low.Percent()}, Value{Key: "rear_share_high_percent", Number: high.Percent()}), nil
}

// forEach shows a torque over a pressure, bareGain a brake force over one.
func (c *balancing) forEach(v unit.Volume) string {
	if c.s.inch {
		return fmt.Sprintf("%.4g in-lb for each psi", v.CubicInches())
	}
	return fmt.Sprintf("%.4g Nm for each MPa", v.Millilitres())
}

func (c *balancing) bareGain(a unit.Area) string {
	if c.s.inch {
		return fmt.Sprintf("%.4g", a.SquareInches())
	}
	return fmt.Sprintf("%.4g", a.SquareMillimetres())
}

func (c *balancing) roadGain(a unit.Area) string {
	customary := fmt.Sprintf("%.4g lbf for each psi", a.SquareInches())
	metric := fmt.Sprintf("%.4g N for each MPa", a.SquareMillimetres())
	if c.s.inch {
		return customary + " (" + metric + ")"
	}
	return metric + " (" + customary + ")"
}

// valve reads knee and slope, which go together.
func (c *balancing) valve() (brakes.Valve, error) {
	knee, haveKnee := valueOf[unit.Pressure](c.in, "valve-knee")
	slope, haveSlope := valueOf[unit.Ratio](c.in, "valve-slope")
	switch {
	case !haveKnee && !haveSlope:
		return brakes.Valve{}, nil
	case !haveSlope:
		return brakes.Valve{}, &InputError{"valve-slope", fmt.Errorf("is needed beside the valve's knee: the 0.3 of 290/0.3")}
	case !haveKnee:
		return brakes.Valve{}, &InputError{"valve-knee", fmt.Errorf("is needed beside the valve's slope: the 290psi of 290/0.3")}
	case !c.real:
		c.r.warn("The valve is left out: without the radius of the tyres its pressure means nothing. Give --front-tyre-radius and --rear-tyre-radius.")
		return brakes.Valve{}, nil
	}
	for _, one := range []struct {
		flag string
		v    brakes.Valve
	}{{"valve-knee", brakes.Valve{Knee: knee}}, {"valve-slope", brakes.Valve{Knee: 1, Slope: slope}}} {
		if _, err := one.v.Rear(0); err != nil || one.v.None() {
			return brakes.Valve{}, blame(one.flag, cmp.Or(err, error(&brakes.OutOfRange{Quantity: "knee of the valve", Got: "0", Want: "more than 0"})))
		}
	}
	c.r.step("valve: up to %s the rear gets all, beyond it %.3g of each rise", amount(c.s, knee), float64(slope))
	return brakes.Valve{Knee: knee, Slope: slope}, nil
}

// wheel reads the parts of one brake of an axle.
func (c *balancing) wheel(axle string) (wheel, error) {
	id := func(name string) string { return axle + "-" + name }
	w := wheel{radius: unit.Length(math.NaN())}
	if words := c.in[id("tyre")]; len(words) > 0 {
		w.size = words[0].Text
	}
	if t, ok := valueOf[unit.Volume](c.in, id("gain")); ok {
		if _, err := brakes.RoadGainOf(t, 1); err != nil {
			return w, blame(id("gain"), err)
		}
		w.flag, w.formula = id("gain"), ", as given"
		w.gain = func(unit.Ratio) (unit.Volume, error) { return t, nil }
		return w, nil
	}
	kind, err := c.in.word(id("brake"), "disc", "drum")
	if err != nil {
		return w, err
	}
	if kind == "" {
		disc, drum := len(c.in[id("caliper")]) > 0, len(c.in[id("wheel-cylinder")]) > 0
		switch {
		case disc && drum:
			return w, &InputError{id("brake"), fmt.Errorf("disc or drum? there is a piston of a caliper and a wheel cylinder")}
		case disc:
			kind = "disc"
		case drum:
			kind = "drum"
		default:
			return w, &InputError{"rear-share", fmt.Errorf("is needed, or else the parts of both axles: --%s or --%s, and what goes with it, or --%s", id("caliper"), id("wheel-cylinder"), id("gain"))}
		}
	}
	if kind == "disc" {
		err = c.disc(id, &w)
	} else {
		err = c.drum(id, &w)
	}
	return w, err
}

// need gives a length that has to be there.
func (c *balancing) need(name string) (unit.Length, error) {
	l, ok := c.in.length(name)
	if !ok {
		return 0, needed(name, "")
	}
	return l, nil
}

// friction of the linings of an axle: given, or the usual one.
func (c *balancing) friction(id func(string) string, w *wheel) (unit.Ratio, error) {
	mu, ok := valueOf[unit.Ratio](c.in, id("friction"))
	if !ok {
		mu = brakes.FrictionUsual.Value
		w.usual = fmt.Sprintf("friction %.2f (%s)", float64(mu), brakes.FrictionUsual.Mark)
		return mu, nil
	}
	if !(mu > brakes.LiningFrictionApart.Value && mu <= 1) {
		return 0, &InputError{id("friction"), fmt.Errorf("%.3g: want more than %.2f, and 1 at the most", float64(mu), float64(brakes.LiningFrictionApart.Value))}
	}
	return mu, nil
}

func (c *balancing) disc(id func(string) string, w *wheel) error {
	var pistons []unit.Length
	for _, a := range c.in[id("caliper")] {
		if a.Missing() {
			return &InputError{id("caliper"), fmt.Errorf("each piston of one side counts: want them all")}
		}
		pistons = append(pistons, unit.As[unit.Length](a).Value)
	}
	if len(pistons) == 0 {
		_, err := c.need(id("caliper"))
		return err
	}
	n, err := c.in.whole(id("pistons"))
	if err != nil {
		return err
	}
	if len(c.in[id("pistons")]) > 0 {
		if n < 1 || n > brakes.MostPistons {
			return &InputError{id("pistons"), fmt.Errorf("%d: want 1 to %d, those of one side", n, brakes.MostPistons)}
		}
		if len(pistons) == 1 {
			pistons = slices.Repeat(pistons, n)
		}
	}
	area, err := brakes.PistonArea(pistons)
	if err != nil {
		return blame(id("caliper"), err)
	}
	radius, err := c.need(id("effective-radius"))
	if err != nil {
		return err
	}
	factor, given := valueOf[unit.Ratio](c.in, id("factor"))
	w.flag, w.offs = id("friction"), true
	mu := factor / 2
	if given {
		w.flag = id("factor")
	} else if mu, err = c.friction(id, w); err != nil {
		return err
	}
	if _, err := brakes.RoadGain(2*mu, area, 1, 1); err != nil {
		return blame(w.flag, err)
	}
	if _, err := brakes.RoadGain(2*mu, area, radius, 1); err != nil {
		return blame(id("effective-radius"), err)
	}
	w.gain = func(off unit.Ratio) (unit.Volume, error) { return torque(2*(mu+off), area, radius) }
	w.formula = fmt.Sprintf(" = 2 x %.3g x %s x %s", float64(mu), own(c.s, area), c.bareSize(radius))
	return nil
}

// torque of one brake over pressure.
func torque(factor unit.Ratio, area unit.Area, radius unit.Length) (unit.Volume, error) {
	both, err := brakes.RoadGain(factor, area, radius, 1)
	return both.Times(1) / 2, err
}

func (c *balancing) drum(id func(string) string, w *wheel) error {
	bore, err := c.need(id("wheel-cylinder"))
	if err != nil {
		return err
	}
	area, err := brakes.PistonArea([]unit.Length{bore})
	if err != nil {
		return blame(id("wheel-cylinder"), err)
	}
	across, err := c.need(id("drum"))
	if err != nil {
		return err
	}
	radius := across / 2
	if _, err := brakes.RoadGain(1, area, radius, 1); err != nil {
		return blame(id("drum"), err)
	}
	shoes, err := c.in.word(id("shoes"), brakes.LeadingTrailing.String(), brakes.TwinLeading.String(), brakes.DuoServo.String())
	if err != nil {
		return err
	}
	factor, given := valueOf[unit.Ratio](c.in, id("factor"))
	if given {
		if _, err := brakes.RoadGain(factor, area, radius, 1); err != nil {
			return blame(id("factor"), err)
		}
	}
	if shoes == "" && !given {
		return needed(id("shoes"), ", or --"+id("factor"))
	}
	w.flag = id("factor")
	w.gain = func(unit.Ratio) (unit.Volume, error) { return torque(factor, area, radius) }
	if shoes != "" {
		mu, err := c.friction(id, w)
		if err != nil {
			return err
		}
		build := brakes.LeadingTrailing
		for build.String() != shoes {
			build++
		}
		usual, err := brakes.UsualFactor(build, mu)
		if err != nil {
			return blame(id("friction"), err)
		}
		if !given {
			factor = usual
			more := fmt.Sprintf("brake factor %.2f of %s shoes of a usual shape (%s)", float64(usual), shoes, brakes.FactorDuoServo.Mark)
			w.usual = strings.TrimPrefix(w.usual+", "+more, ", ")
			c.r.Sources = append(c.r.Sources, "brake factor of a drum: "+brakes.FactorDuoServo.Source+" ("+string(brakes.FactorDuoServo.Mark)+"), at another friction by a model of common proportions ("+string(brakes.ShoeReach.Mark)+")")
		}
		w.flag, w.offs = id("friction"), true
		w.gain = func(off unit.Ratio) (unit.Volume, error) {
			then, err := brakes.UsualFactor(build, mu+off)
			if err != nil {
				return 0, err
			}
			return torque(factor*then/usual, area, radius)
		}
	}
	w.formula = fmt.Sprintf(" = %.3g x %s x %s", float64(factor), own(c.s, area), c.bareSize(radius))
	return nil
}

// tyres reads the radii. Where none is known, both are taken as one, and no
// pressure means anything.
func (c *balancing) tyres(front, rear *wheel) error {
	for _, w := range []struct {
		axle string
		*wheel
	}{{"front", front}, {"rear", rear}} {
		flag := w.axle + "-tyre-radius"
		r, ok := c.in.length(flag)
		if ok {
			if _, err := brakes.RoadGainOf(1, r); err != nil {
				return blame(flag, err)
			}
			w.radius = r
			continue
		}
		if w.size == "" {
			continue
		}
		t, err := brakes.ReadTyre(w.size)
		if err != nil {
			continue // an old size; its height is not known
		}
		way, err := brakes.RollingWay(t.Free)
		if err != nil {
			return blame(w.axle+"-tyre", err)
		}
		w.radius = way / (2 * math.Pi)
		c.r.step("%s tyre %s: rolling radius %s", w.axle, t.Size, c.size(w.radius))
	}
	haveFront, haveRear := !math.IsNaN(float64(front.radius)), !math.IsNaN(float64(rear.radius))
	c.real = haveFront || haveRear
	switch {
	case !haveFront && !haveRear:
		if !strings.EqualFold(front.size, rear.size) {
			return &InputError{"front-tyre-radius", fmt.Errorf("is needed, and --rear-tyre-radius: the sizes %q and %q do not say it", front.size, rear.size)}
		}
		front.radius, rear.radius = 0.3, 0.3
		c.r.warn("The tyres' radius is not known: taken as the same at both axles. The share holds, pressures are left out.")
	case !haveFront && front.size == "":
		front.radius = rear.radius
		c.r.warn("The front tyres are taken to be as large as the rear ones.")
	case !haveRear && rear.size == "":
		rear.radius = front.radius
		c.r.warn("The rear tyres are taken to be as large as the front ones.")
	case !haveFront:
		return &InputError{"front-tyre-radius", fmt.Errorf("is needed: the size %q does not say it", front.size)}
	case !haveRear:
		return &InputError{"rear-tyre-radius", fmt.Errorf("is needed: the size %q does not say it", rear.size)}
	}
	return nil
}

// moment is the balance at the deceleration that was asked for, else at the
// best one of the road.
func (c *balancing) moment() (Values, error) {
	decel, haveDecel := valueOf[unit.Acceleration](c.in, "decel")
	press, havePress := valueOf[unit.Pressure](c.in, "pressure")
	mu, haveRoad := valueOf[unit.Ratio](c.in, "surface")
	if !haveRoad {
		mu = brakes.RoadFriction.Value
		c.r.Sources = append(c.r.Sources, fmt.Sprintf("friction of the road %.1f: %s (%s)", float64(mu), brakes.RoadFriction.Source, brakes.RoadFriction.Mark))
	}
	c.mu = mu
	var err error
	if c.lock, err = c.body.Lock(c.split, mu); err != nil {
		return nil, blame("surface", err)
	}
	asked := "decel"
	switch {
	case haveDecel && havePress:
		return nil, &InputError{"pressure", fmt.Errorf("gives a deceleration of its own: give one of the two")}
	case havePress && !c.real:
		return nil, &InputError{"pressure", fmt.Errorf("means nothing without the parts of both axles and the radius of their tyres: give --decel")}
	case havePress:
		asked = "pressure"
		c.now, err = c.body.AtPressure(c.split, press)
	case haveDecel:
		c.now, err = c.body.At(c.split, unit.Per(decel, unit.StandardGravity))
	default:
		c.now, err = c.body.At(c.split, c.lock.Best)
	}
	if err != nil {
		return nil, blame(asked, err)
	}
	m := c.now
	if m.Deceleration <= c.body.Rolling {
		return nil, &InputError{asked, fmt.Errorf("want more than nothing: a vehicle that rolls uses no grip")}
	}
	c.z = m.Deceleration
	ideal, err := c.body.IdealShare(c.z)
	if err != nil {
		return nil, blame(asked, err)
	}
	if c.real {
		c.r.step("line pressure at %s = %s", g(c.z), amount(c.s, m.Pressure))
		if !c.split.Valve.None() {
			c.r.step("behind the valve = %s", amount(c.s, m.RearPressure))
		}
	}
	c.r.step("at %s the brakes bring front %s, rear %s", gBoth(c.z), amount(c.s, m.FrontForce), amount(c.s, m.RearForce))
	moved := m.FrontLoad - c.body.Front
	c.r.step("load that moves forward = %.3g x %.3f x %s = %s", float64(c.z), float64(c.body.Steepness()), own(c.s, c.body.Weight()), amount(c.s, moved))
	c.r.step("grip used in front = %s / (%s + %s) = %.3f", own(c.s, m.FrontForce), own(c.s, c.body.Front), own(c.s, moved), float64(m.FrontAdhesion))
	c.r.step("grip used behind = %s / (%s - %s) = %.3f", own(c.s, m.RearForce), own(c.s, c.body.Rear), own(c.s, moved), float64(m.RearAdhesion))
	c.r.step("rear share that would use both alike = %s - %.3g x %.3f = %s", partOf(c.body.RearShare()), float64(c.z), float64(c.body.Steepness()), partOf(ideal))

	c.r.say("Grip used is brake force over load: at the grip that the road has, the wheel locks.")
	switch first := m.First(); first {
	case brakes.BothEnds:
		c.r.say("At %s both axles use %.2f of grip: they would lock together.", gBoth(c.z), float64(m.Needs()))
	default:
		more, less := m.FrontAdhesion, m.RearAdhesion
		if first == brakes.RearEnd {
			more, less = less, more
		}
		c.r.say("At %s the %s wheels are nearer to locking: they use %.2f of grip, the %s ones %.2f.", gBoth(c.z), first, float64(more), other(first), float64(less))
	}
	first := m.First()
	if !haveDecel && !havePress {
		first = c.lock.First
	}
	out := Values{
		{Key: "deceleration_g", Number: float64(c.z)},
		{Key: "front_load_n", Number: m.FrontLoad.Newtons()}, {Key: "rear_load_n", Number: m.RearLoad.Newtons()},
		{Key: "front_force_n", Number: m.FrontForce.Newtons()}, {Key: "rear_force_n", Number: m.RearForce.Newtons()},
		{Key: "ideal_rear_share_percent", Number: ideal.Percent()},
		{Key: "front_adhesion", Number: float64(m.FrontAdhesion)}, {Key: "rear_adhesion", Number: float64(m.RearAdhesion)},
		{Key: "first_to_lock", Text: first.String()},
		{Key: "efficiency_percent", Number: m.Efficiency().Percent()},
	}
	if c.real {
		out = append(out, Value{Key: "line_pressure_kpa", Number: m.Pressure.Kilopascals()}, Value{Key: "rear_pressure_kpa", Number: m.RearPressure.Kilopascals()})
	}
	return out, nil
}

func other(e brakes.End) brakes.End {
	if e == brakes.FrontEnd {
		return brakes.RearEnd
	}
	return brakes.FrontEnd
}

// oneAxle reports whether only one axle brakes: then nothing turns round.
func (c *balancing) oneAxle() bool { return c.split.Front == 0 || c.split.Rear == 0 }

// turns says where the order of locking turns.
func (c *balancing) turns() (Values, error) {
	if c.oneAxle() {
		c.r.say("Only the %s wheels brake.", c.lock.First)
		return nil, nil
	}
	spans, err := c.body.Order(c.split)
	if err != nil {
		return nil, err
	}
	critical, err := c.body.Critical(c.split)
	if err != nil {
		return nil, err
	}
	if c.split.Valve.None() {
		c.r.step("the order turns at (%s - %s) / %.3f = %s", partOf(c.body.RearShare()), partOf(c.split.Share()), float64(c.body.Steepness()),
			gBoth((c.body.RearShare()-c.split.Share())/c.body.Steepness()))
	}
	var list []Values
	for _, span := range spans {
		list = append(list, Values{{Key: "from_g", Number: float64(span.From)}, {Key: "to_g", Number: float64(span.To)}, {Key: "first", Text: span.First.String()}})
	}
	c.r.say("%s", orderSay(spans))
	if slices.ContainsFunc(spans, func(s brakes.Span) bool { return s.First == brakes.RearEnd && s.From < brakes.OrderTo.Value }) {
		c.r.say("Rear wheels that lock first let the vehicle swing round. Front wheels that lock first let it slide straight on, and the steering does nothing.")
	}
	out := Values{{Key: "critical_g", Number: float64(critical)}, {Key: "order", List: list}}
	if len(c.maybe) == 0 {
		return out, nil
	}
	low, high := critical, critical
	for _, s := range c.maybe {
		z, err := c.body.Critical(s)
		if err != nil {
			return nil, err
		}
		low, high = min(low, z), max(high, z)
	}
	c.r.say("%s %s", c.doubt, turnSay(low, high))
	return append(out, Value{Key: "critical_low_g", Number: float64(low)}, Value{Key: "critical_high_g", Number: float64(high)}), nil
}

// never is a deceleration that hardly a road gives.
const never unit.Ratio = 0.95

// orderSay says in words which wheels lock first, as far as roads reach.
func orderSay(spans []brakes.Span) string {
	say := ""
	for _, s := range spans {
		switch {
		case s.From >= never:
		case s.To >= never && say == "":
			return fmt.Sprintf("Whatever the road, the %s wheels lock first.", s.First)
		case s.To >= never:
			say += fmt.Sprintf(", above that the %s ones", s.First)
		case say == "":
			say = fmt.Sprintf("Up to %s the %s wheels lock first", gBoth(s.To), s.First)
		default:
			say += fmt.Sprintf(", then up to %s the %s ones", gBoth(s.To), s.First)
		}
	}
	return say + "."
}

func turnSay(low, high unit.Ratio) string {
	switch {
	case low >= never:
		return "The front wheels stay first."
	case high <= 0:
		return "The rear wheels stay first."
	case high >= never && low <= 0:
		return "So either may come first, from the first touch of the pedal on."
	case high >= never:
		return fmt.Sprintf("So the rear wheels may come first from %s on, or never.", g(low))
	case low <= 0:
		return fmt.Sprintf("So the rear wheels may come first from the first touch of the pedal, or only from %s on.", g(high))
	}
	return fmt.Sprintf("So the rear wheels may come first from %s on, or only from %s.", g(low), g(high))
}

// road says what the road allows.
func (c *balancing) road() (Values, error) {
	l := c.lock
	at := func(z unit.Ratio) string {
		if math.IsInf(float64(z), 0) {
			return "never"
		}
		return "at " + g(z)
	}
	c.r.step("on a road of %.2f: front locks %s, rear %s", float64(c.mu), at(l.Front), at(l.Rear))
	which := fmt.Sprintf("the %s wheels", l.First)
	if l.First == brakes.BothEnds {
		which = "all wheels"
	}
	c.r.say("On a road with grip %.2f %s lock first. The best without a locked wheel is %s, %.0f %% of what the road would give.",
		float64(c.mu), which, gBoth(l.Best), l.Efficiency().Percent())
	if c.z > l.Best*(1+1e-9) {
		c.r.say("The %s looked at here are beyond it: on that road a wheel is locked before.", g(c.z))
	}
	return Values{{Key: "surface", Number: float64(c.mu)}, {Key: "surface_first_to_lock", Text: l.First.String()},
		{Key: "front_lock_g", Number: float64(l.Front)}, {Key: "rear_lock_g", Number: float64(l.Rear)},
		{Key: "best_g", Number: float64(l.Best)}, {Key: "surface_efficiency_percent", Number: l.Efficiency().Percent()}}, nil
}

// curve is the grip that each axle uses at one deceleration after another, as
// a table and a small drawing.
func (c *balancing) curve() (Values, error) {
	const columns = 17
	column := func(x unit.Ratio) int { return min(int(math.Round(float64(x)*(columns-1))), columns-1) }
	c.r.step("slowing, grip used: F front, R rear, B both, | the road")
	var list []Values
	for i := 1; i <= 10; i++ {
		z := unit.Ratio(i) / 10
		if z >= c.body.Lifts() || z <= c.body.Rolling {
			continue
		}
		m, err := c.body.At(c.split, z)
		if err != nil {
			break // behind a valve that is shut
		}
		list = append(list, Values{{Key: "decel_g", Number: float64(z)}, {Key: "front_adhesion", Number: float64(m.FrontAdhesion)}, {Key: "rear_adhesion", Number: float64(m.RearAdhesion)}})
		if z > 0.95 {
			continue
		}
		cells := []byte(strings.Repeat(".", columns))
		cells[column(c.mu)] = '|'
		cells[column(m.FrontAdhesion)] = 'F'
		cells[column(m.RearAdhesion)] = 'R'
		if column(m.FrontAdhesion) == column(m.RearAdhesion) {
			cells[column(m.FrontAdhesion)] = 'B'
		}
		c.r.step("%.1f g  %.2f  %.2f  %s", float64(z), float64(m.FrontAdhesion), float64(m.RearAdhesion), cells)
	}
	return Values{{Key: "curve", List: list}}, nil
}

// groupOf are the results of another vehicle, or of this one otherwise built.
func (c *balancing) groupOf(b brakes.Body, s brakes.Split) (Values, brakes.Lock, error) {
	l, err := b.Lock(s, c.mu)
	if err != nil {
		return nil, l, err
	}
	v := Values{{Key: "rear_weight_share_percent", Number: b.RearShare().Percent()}, {Key: "rear_share_percent", Number: s.Share().Percent()}}
	front, rear, first := math.NaN(), math.NaN(), ""
	if m, err := b.At(s, c.z); err == nil {
		front, rear, first = float64(m.FrontAdhesion), float64(m.RearAdhesion), m.First().String()
	}
	critical := unit.Ratio(math.NaN())
	if s.Front > 0 && s.Rear > 0 {
		if critical, err = b.Critical(s); err != nil {
			return nil, l, err
		}
	}
	return append(v, Value{Key: "front_adhesion", Number: front}, Value{Key: "rear_adhesion", Number: rear}, Value{Key: "first_to_lock", Text: first, Number: math.NaN()},
		Value{Key: "critical_g", Number: float64(critical)}, Value{Key: "surface_first_to_lock", Text: l.First.String()}, Value{Key: "best_g", Number: float64(l.Best)}), l, nil
}

// compare says what else changes: the order and the best deceleration.
func (c *balancing) compare(what string, b brakes.Body, s brakes.Split, l brakes.Lock) error {
	which := fmt.Sprintf("the %s wheels lock first", l.First)
	if l.First == brakes.BothEnds {
		which = "all wheels lock together"
	}
	c.r.say("%s: on that road %s, and the best is %s in place of %s.", what, which, g(l.Best), g(c.lock.Best))
	if s.Front == 0 || s.Rear == 0 {
		return nil
	}
	spans, err := b.Order(s)
	if err != nil {
		return err
	}
	c.r.say("%s", orderSay(spans))
	return nil
}

// loaded is the same vehicle with its full load.
func (c *balancing) loaded() (Values, error) {
	front, haveFront := valueOf[unit.Mass](c.in, "front-load-full")
	rear, haveRear := valueOf[unit.Mass](c.in, "rear-load-full")
	height, haveHeight := c.in.length("centre-height-full")
	switch {
	case !haveFront && !haveRear && haveHeight:
		return nil, &InputError{"centre-height-full", fmt.Errorf("belongs to the full vehicle: give --front-load-full and --rear-load-full")}
	case !haveFront && !haveRear:
		c.r.warn("Only one load is known. An emptier vehicle locks its rear wheels sooner.")
		return nil, nil
	case !haveFront:
		return nil, &InputError{"front-load-full", fmt.Errorf("is needed beside --rear-load-full")}
	case !haveRear:
		return nil, &InputError{"rear-load-full", fmt.Errorf("is needed beside --front-load-full")}
	}
	b := c.body
	b.Front, b.Rear = front.Weight(), rear.Weight()
	if haveHeight {
		b.CentreHeight = height
	} else {
		c.r.warn("The height of the centre of gravity of the full vehicle is taken to be that of the empty one. A high load makes it more.")
	}
	if err := c.checkBody(b, "front-load-full", "rear-load-full", "wheelbase", "centre-height-full"); err != nil {
		return nil, err
	}
	v, l, err := c.groupOf(b, c.split)
	if err != nil {
		return nil, blame("surface", err)
	}
	c.r.step("full: front %s, rear %s, rear share of the weight %s", c.standing(b.Front), c.standing(b.Rear), partOf(b.RearShare()))
	if err := c.compare("Fully loaded", b, c.split, l); err != nil {
		return nil, err
	}
	return Values{{Key: "loaded", Group: v}}, nil
}

// valveGone is the vehicle with its valve stuck open or taken out.
func (c *balancing) valveGone() (Values, error) {
	if c.split.Valve.None() {
		return nil, nil
	}
	open := c.split.WithoutValve()
	v, l, err := c.groupOf(c.body, open)
	if err != nil {
		return nil, blame("surface", err)
	}
	if err := c.compare("With the valve stuck open, or gone", c.body, open, l); err != nil {
		return nil, err
	}
	return Values{{Key: "without_valve", Group: v}}, nil
}

// otherBore is the vehicle with another wheel cylinder at every rear wheel.
func (c *balancing) otherBore() (Values, error) {
	to, ok := c.in.length("new-wheel-cylinder")
	if !ok {
		return nil, nil
	}
	from, ok := c.in.length("rear-wheel-cylinder")
	if !ok {
		return nil, &InputError{"new-wheel-cylinder", fmt.Errorf("in place of which bore? give --rear-wheel-cylinder")}
	}
	if _, err := c.split.Rebored(from, 1); err != nil {
		return nil, blame("rear-wheel-cylinder", err)
	}
	s, err := c.split.Rebored(from, to)
	if err != nil {
		return nil, blame("new-wheel-cylinder", err)
	}
	v, l, err := c.groupOf(c.body, s)
	if err != nil {
		return nil, blame("surface", err)
	}
	c.r.step("rear wheel cylinders of %s: rear share %s becomes %s", c.size(to), partOf(c.split.Share()), partOf(s.Share()))
	if err := c.compare(fmt.Sprintf("With rear wheel cylinders of %s", c.size(to)), c.body, s, l); err != nil {
		return nil, err
	}
	c.r.say("Fit the bore that the maker names, the same on both sides.")
	return Values{{Key: "new_wheel_cylinder", Group: v}}, nil
}

// circuitLost says what one empty circuit leaves: a reason not to drive.
func (c *balancing) circuitLost() (Values, error) {
	how, err := c.in.word("circuits", "one", "two", "diagonal")
	if err != nil || c.oneAxle() {
		return nil, err
	}
	if how == "one" {
		c.r.warn("One circuit for all four wheels: a leak anywhere takes all of them, and only the parking brake is left. There is no half that could be worked out.")
		return nil, nil
	}
	var out Values
	for _, one := range []brakes.Circuits{brakes.AxleCircuits, brakes.DiagonalCircuits} {
		if how != "" && how != string(one) {
			continue
		}
		all, err := c.body.LoseCircuit(c.split, one, c.mu, c.z)
		if err != nil {
			return nil, blame("surface", err)
		}
		for _, l := range all {
			out = append(out, c.lostCircuit(l, how == "")...)
		}
		if one == brakes.DiagonalCircuits {
			v, err := c.yaw(how == "")
			if err != nil {
				return nil, err
			}
			out = append(out, v...)
		}
	}
	c.r.warn("What one empty circuit or a dead booster leaves is a reason not to drive, never a comfort: the pedal drops first, wheels lock early, and behind what is left there is nothing.")
	if how == "" {
		c.r.warn("How the circuits are divided was not said (--circuits one, two or diagonal): both ways of two are shown. With one, a leak takes all four brakes.")
	}
	return out, nil
}

func (c *balancing) lostCircuit(l brakes.Lost, either bool) Values {
	name := map[string]string{"rear": "Rear circuit empty", "front": "Front circuit empty", "diagonal": "One diagonal circuit empty"}[l.Circuit]
	key := map[string]string{"rear": "front_only", "front": "rear_only", "diagonal": "diagonal"}[l.Circuit]
	psi, chi, mu := c.body.RearShare(), float64(c.body.Steepness()), float64(c.mu)
	switch {
	case l.Circuit == "diagonal" || c.body.Rolling > 0:
		c.r.step("%s: wheels lock at %s", strings.ToLower(name), g(l.Lock.Best))
	case l.Circuit == "rear":
		c.r.step("%s: %.3g x %s / (1 - %.3g x %.3f) = %s", strings.ToLower(name), mu, partOf(1-psi), mu, chi, g(l.Lock.Best))
	default:
		c.r.step("%s: %.3g x %s / (1 + %.3g x %.3f) = %s", strings.ToLower(name), mu, partOf(psi), mu, chi, g(l.Lock.Best))
	}
	if !either || l.Circuit != "diagonal" {
		c.r.say("%s, do not drive: the foot that gave %s gives %s, and however hard it presses wheels lock at %s on that road.", name, g(c.z), g(min(l.Left, l.Lock.Best)), g(l.Lock.Best))
	}
	return Values{{Key: key + "_g", Number: float64(l.Lock.Best)}, {Key: key + "_same_foot_g", Number: float64(l.Left)}}
}

// yaw is how a diagonal circuit alone turns the vehicle.
func (c *balancing) yaw(either bool) (Values, error) {
	front, haveFront := c.in.length("front-track")
	rear, haveRear := c.in.length("rear-track")
	if !haveFront || !haveRear {
		return nil, nil
	}
	if _, err := brakes.DiagonalYaw(0, 0, front, 1); err != nil {
		return nil, blame("front-track", err)
	}
	m, err := brakes.DiagonalYaw(c.now.FrontForce/2, c.now.RearForce/2, front, rear)
	if err != nil {
		return nil, blame("rear-track", err)
	}
	if !either {
		side := "the side of the front wheel that brakes"
		if m < 0 {
			side = "the side of the rear wheel that brakes"
		}
		c.r.say("One diagonal alone turns the vehicle toward %s, with %s at that pressure.", side, amount(c.s, unit.Torque(math.Abs(float64(m)))))
	}
	return Values{{Key: "diagonal_yaw_nm", Number: m.NewtonMetres()}}, nil
}

// boosterLost says what the same foot gives without its help.
func (c *balancing) boosterLost() (Values, error) {
	gain, ok := valueOf[unit.Ratio](c.in, "booster-gain")
	if !ok {
		return nil, nil
	}
	m, err := c.body.LoseBooster(c.split, gain, c.z)
	if err != nil {
		return nil, blame("booster-gain", err)
	}
	c.r.step("without the booster, same foot: 1/%.4g of the pressure, %s", float64(gain), gBoth(m.Deceleration))
	c.r.say("Booster dead, do not drive: the foot that gave %s gives %s, and the same takes %.3g times the foot.", g(c.z), g(m.Deceleration), float64(gain))
	return Values{{Key: "no_booster_g", Number: float64(m.Deceleration)}}, nil
}

// rules holds the balance against the published rules for new types.
func (c *balancing) rules() (Values, error) {
	if c.oneAxle() {
		return nil, nil
	}
	var list []Values
	var broken []string
	for _, r := range brakes.DistributionRules() {
		all, err := c.body.Breaks(c.split, r)
		if err != nil {
			return nil, err
		}
		kept := len(all) == 0
		v := Values{{Key: "id", Text: r.ID}, {Key: "kept", Flag: &kept}}
		var at []Values
		var say []string
		for _, s := range all {
			at = append(at, Values{{Key: "from_g", Number: float64(s.From)}, {Key: "to_g", Number: float64(s.To)}})
			say = append(say, fmt.Sprintf("%.2f to %s", float64(s.From), g(s.To)))
		}
		if at == nil {
			at = []Values{}
		}
		list = append(list, append(v, Value{Key: "broken", List: at}))
		if !kept {
			broken = append(broken, fmt.Sprintf("%s, at %s", r.Say, strings.Join(say, " and ")))
		}
	}
	c.r.say("Rules of balance are for new types of vehicle, before they are sold. None is a fault found on one in use.")
	if len(broken) == 0 {
		c.r.say("This balance keeps all %d that are known here.", len(list))
	}
	for _, b := range broken {
		c.r.say("It would break %s.", b)
	}
	c.r.Sources = append(c.r.Sources, fmt.Sprintf("rules of balance: UN Regulation No. 13-H, annex 5; No. 13, annex 10; Directive 71/320/EEC, annex II; 49 CFR 571.135, S7.2 and S7.4 (%s)", brakes.UseSlopeR13.Mark))
	return Values{{Key: "rules", List: list}}, nil
}
