package calc

import (
	"fmt"
	"math"
	"slices"

	"chock/brakes"
	"chock/brakes/unit"
)

// valueOf gives the one value of an input; ok is false where it is not known.
func valueOf[Q ~float64](in inputs, name string) (v Q, ok bool) {
	if len(in[name]) == 0 {
		return Q(math.NaN()), false
	}
	return unit.As[Q](in[name][0]).Value, true
}

// customary reports whether the person works in inches and pounds.
func (in inputs) customary(names ...string) bool {
	for _, n := range names {
		for _, a := range in[n] {
			if !a.Missing() && a.Unit != "" {
				return slices.Contains([]string{"in", "thou", "ft", "mi", "lbf", "lb", "psi", "lb-ft", "in-lb", "mph"}, a.Unit)
			}
		}
	}
	return true
}

// systems are the units in which an amount is shown: customary and metric.
var systems = map[unit.Kind][2]string{
	unit.KindForce: {"lbf", "N"}, unit.KindPressure: {"psi", "kPa"}, unit.KindArea: {"in2", "mm2"},
	unit.KindTorque: {"lb-ft", "Nm"}, unit.KindMass: {"lb", "kg"}, unit.KindVolume: {"in3", "cc"},
	unit.KindSpeed: {"mph", "km/h"},
}

// amount shows q in both systems, the person's own first.
func amount[Q ~float64](s shower, q Q) string {
	a := unit.Of(unit.Reading[Q]{Value: q})
	own, other := systems[a.Kind][0], systems[a.Kind][1]
	if !s.inch {
		own, other = other, own
	}
	return unit.Format(a.Kind, a.SI, own) + " (" + unit.Format(a.Kind, a.SI, other) + ")"
}

// own shows q in the person's own system alone, for the arithmetic.
func own[Q ~float64](s shower, q Q) string {
	a := unit.Of(unit.Reading[Q]{Value: q})
	if s.inch {
		return unit.Format(a.Kind, a.SI, systems[a.Kind][0])
	}
	return unit.Format(a.Kind, a.SI, systems[a.Kind][1])
}

// A chain is what is known so far on the way from foot to lining; NaN is
// unknown.
type chain struct {
	in     inputs
	s      shower
	r      Result
	rod    unit.Force // on the master cylinder, booster and all
	press  unit.Pressure
	master unit.Area
	gain   unit.Ratio // of pedal and booster, as this foot finds them

	booster  booster
	second   unit.Area     // of the second section, the same where it is not stepped
	press2   unit.Pressure // in it
	feedsTwo string        // which axle the second section feeds
}

func runRatio(raw map[string][]unit.Any) (Result, error) {
	nan := math.NaN()
	c := &chain{in: inputs(raw), rod: unit.Force(nan), press: unit.Pressure(nan), master: unit.Area(nan), gain: unit.Ratio(nan), second: unit.Area(nan), press2: unit.Pressure(nan)}
	c.s = shower{inch: c.in.customary("master", "caliper", "wheel-cylinder", "pedal-force")}
	rod, pedal, err := c.foot()
	if err != nil {
		return Result{}, err
	}
	if err := c.sections(); err != nil {
		return Result{}, err
	}
	if err := c.line(); err != nil {
		return Result{}, err
	}
	caliper, clamp, front, err := c.front()
	if err != nil {
		return Result{}, err
	}
	cylinder, shoe, rear, err := c.rear()
	if err != nil {
		return Result{}, err
	}
	change, fresh, share, err := c.another(shoe)
	if err != nil {
		return Result{}, err
	}
	vacuum, err := c.lostVacuum(rod, pedal)
	if err != nil {
		return Result{}, err
	}
	r := &c.r
	if len(r.Steps) == 0 {
		return Result{}, &InputError{"master", fmt.Errorf("is needed, with a caliper, a wheel cylinder or a force: there is nothing to work out")}
	}
	percent := func(k unit.Ratio) float64 { return (float64(k) - 1) * 100 }
	r.Values = append(Values{
		{Key: "rod_force_n", Number: c.rod.Newtons()},
		{Key: "line_pressure_kpa", Number: c.press.Kilopascals()},
		{Key: "master_area_mm2", Number: c.master.SquareMillimetres()},
		{Key: "caliper_area_mm2", Number: caliper.SquareMillimetres()},
		{Key: "wheel_cylinder_area_mm2", Number: cylinder.SquareMillimetres()},
		{Key: "clamp_force_n", Number: clamp.Newtons()},
		{Key: "shoe_force_n", Number: shoe.Newtons()},
		{Key: "hydraulic_ratio_front", Number: float64(front)},
		{Key: "hydraulic_ratio_rear", Number: float64(rear)},
		{Key: "total_ratio_front", Number: float64(c.gain * front)},
		{Key: "total_ratio_rear", Number: float64(c.gain * rear)},
		{Key: "new_shoe_force_n", Number: fresh.Newtons()},
		{Key: "force_change_percent", Number: percent(change)},
		{Key: "volume_change_percent", Number: percent(change)},
		{Key: "travel_change_percent", Number: percent(1 / change)},
		{Key: "new_rear_share_percent", Number: share.Percent()},
		{Key: "second_master_area_mm2", Number: c.second.SquareMillimetres()},
		{Key: "second_line_pressure_kpa", Number: c.press2.Kilopascals()},
	}, vacuum...)
	r.Sources = []string{
		"pedal: law of the lever; fluid: Pascal's law; friction in pedal, seals and springs left out: 5 to 20 in 100 (from memory)",
		"a caliper's pistons are counted on one side: each side presses its own pad, and a caliper that slides presses the other as hard (force balance)",
	}
	r.Sources = append(r.Sources, c.booster.sources...)
	r.Warnings = append(r.Warnings, c.booster.warnings...)
	if !math.IsNaN(float64(clamp)) || !math.IsNaN(float64(shoe)) {
		r.say("These are forces behind the linings. What the road feels depends on lining, radius and drum too.")
	}
	return *r, nil
}

// foot goes from the pedal to the rod of the master cylinder. rod is what
// arrives before the booster, NaN where no force was given.
func (c *chain) foot() (rod unit.Force, pedal unit.Ratio, err error) {
	rod = unit.Force(math.NaN())
	foot, haveFoot := valueOf[unit.Force](c.in, "pedal-force")
	pedal, havePedal := valueOf[unit.Ratio](c.in, "pedal-ratio")
	if !havePedal {
		pedal = 1
	}
	// The formulas refuse, whatever the force.
	if _, err = brakes.RodForce(1, pedal); err != nil {
		return rod, pedal, blame("pedal-ratio", err)
	}
	if c.booster, err = c.in.booster(); err != nil {
		return rod, pedal, err
	}
	if havePedal {
		c.gain = pedal
		if c.booster.kind != noBooster {
			c.gain = pedal * c.booster.Gain
		}
	}
	if !haveFoot {
		c.showKnee(pedal, havePedal)
		return rod, pedal, nil
	}
	if rod, err = brakes.RodForce(foot, pedal); err != nil {
		return rod, pedal, blame("pedal-force", err)
	}
	if havePedal {
		c.r.step("rod force = %.4g x %s = %s", float64(pedal), own(c.s, foot), amount(c.s, rod))
	} else {
		c.r.step("rod force = %s", amount(c.s, rod))
		c.r.warn("No pedal ratio given: the force counts as it arrives at the rod of the master cylinder.")
	}
	c.showKnee(pedal, havePedal)
	if err := c.boost(rod); err != nil {
		return rod, pedal, err
	}
	if havePedal && c.booster.kind == withKnee && foot > 0 {
		// Beyond the knee, and before the valve opens, it is less than the gain.
		c.gain = unit.Per(c.rod, foot)
	}
	return rod, pedal, nil
}

// line goes from the rod to the pressure in the pipes.
func (c *chain) line() error {
	bore, ok := c.in.length("master")
	if !ok {
		return nil
	}
	area, err := brakes.PistonArea([]unit.Length{bore})
	if err != nil {
		return blame("master", err)
	}
	c.master, c.second = area, area
	c.r.step("master cylinder = pi/4 x (%s)² = %s", c.size(bore), amount(c.s, area))
	second, stepped := c.in.length("second-master")
	if !stepped {
		second = bore
	}
	if stepped {
		if c.second, err = brakes.PistonArea([]unit.Length{second}); err != nil {
			return blame("second-master", err)
		}
		c.r.step("its second section = pi/4 x (%s)² = %s", c.size(second), amount(c.s, c.second))
	}
	if math.IsNaN(float64(c.rod)) {
		return nil
	}
	if c.press, c.press2, err = (brakes.Tandem{First: bore, Second: second}).Pressures(c.rod); err != nil {
		return blame("master", err)
	}
	c.r.step("line pressure = %s / %s = %s", own(c.s, c.rod), own(c.s, c.master), amount(c.s, c.press))
	if stepped {
		c.r.step("in the second section = %s / %s = %s", own(c.s, c.rod), own(c.s, c.second), amount(c.s, c.press2))
	}
	return nil
}

// sections sorts out which axle the second section feeds.
func (c *chain) sections() (err error) {
	if c.feedsTwo, err = c.in.word("second-feeds", "front", "rear"); err != nil {
		return err
	}
	stepped := len(c.in["second-master"]) > 0
	switch {
	case stepped && len(c.in["master"]) == 0:
		return &InputError{"second-master", fmt.Errorf("and the first section? give --master")}
	case !stepped && c.feedsTwo != "":
		return &InputError{"second-feeds", fmt.Errorf("which bore has it? give --second-master")}
	case stepped && c.feedsTwo == "":
		c.feedsTwo = "rear"
		c.r.warn("Which axle the second section feeds was not said: taken as the rear. Follow its pipe, or give --second-feeds.")
	}
	return nil
}

// of is the pressure and the bore of the section that feeds an axle.
func (c *chain) of(axle string) (unit.Pressure, unit.Area) {
	if axle == c.feedsTwo {
		return c.press2, c.second
	}
	return c.press, c.master
}

// size is a bore in the person's own unit.
func (c *chain) size(l unit.Length) string {
	name, _ := c.s.large()
	return unit.Format(unit.KindLength, float64(l), name)
}

// pistonsOfOneSide are those of a caliper, nil where there is none.
func (in inputs) pistonsOfOneSide() ([]unit.Length, error) {
	n, err := in.whole("pistons")
	if err != nil {
		return nil, err
	}
	counted := len(in["pistons"]) > 0
	if len(in["caliper"]) == 0 {
		if counted {
			err = &InputError{"pistons", fmt.Errorf("there is no caliper to count them on: give --caliper")}
		}
		return nil, err
	}
	var pistons []unit.Length
	for _, a := range in["caliper"] {
		if a.Missing() {
			return nil, &InputError{"caliper", fmt.Errorf("each piston of one side counts: want them all")}
		}
		pistons = append(pistons, unit.As[unit.Length](a).Value)
	}
	switch {
	case counted && len(pistons) > 1:
		return nil, &InputError{"pistons", fmt.Errorf("the pistons of one side are listed already: %d of them", len(pistons))}
	case counted && (n < 1 || n > brakes.MostPistons):
		return nil, &InputError{"pistons", fmt.Errorf("%d: want 1 to %d, those of one side", n, brakes.MostPistons)}
	case counted:
		pistons = slices.Repeat(pistons, n)
	}
	return pistons, nil
}

// front goes from the pressure to the pads.
func (c *chain) front() (area unit.Area, clamp unit.Force, ratio unit.Ratio, err error) {
	area, clamp, ratio = unit.Area(math.NaN()), unit.Force(math.NaN()), unit.Ratio(math.NaN())
	pistons, err := c.in.pistonsOfOneSide()
	if err != nil || pistons == nil {
		return area, clamp, ratio, err
	}
	what := ""
	if len(c.in["pistons"]) > 0 {
		what = fmt.Sprintf("%d x ", len(pistons))
	}
	if area, err = brakes.PistonArea(pistons); err != nil {
		return area, clamp, ratio, blame("caliper", err)
	}
	if len(c.in["caliper"]) > 1 {
		sum := ""
		for i, d := range pistons {
			if i > 0 {
				sum += " + "
			}
			sum += "(" + c.size(d) + ")²"
		}
		c.r.step("pistons of one side = pi/4 x [%s] = %s", sum, amount(c.s, area))
	} else {
		c.r.step("pistons of one side = %spi/4 x (%s)² = %s", what, c.size(pistons[0]), amount(c.s, area))
	}
	clamp, ratio, err = c.slave("clamp force on each pad", "front", area)
	if err == nil && !math.IsNaN(float64(ratio)) {
		c.r.say("Front: each pad is pressed %.2f times as hard as the piston of the master cylinder. The price is travel: for the same fluid its own piston moves 1/%.2f as far.", float64(ratio), float64(ratio))
	}
	return area, clamp, ratio, err
}

// rear goes from the pressure to the shoes.
func (c *chain) rear() (area unit.Area, shoe unit.Force, ratio unit.Ratio, err error) {
	area, shoe, ratio = unit.Area(math.NaN()), unit.Force(math.NaN()), unit.Ratio(math.NaN())
	bore, ok := c.in.length("wheel-cylinder")
	if !ok {
		return area, shoe, ratio, nil
	}
	if area, err = brakes.PistonArea([]unit.Length{bore}); err != nil {
		return area, shoe, ratio, blame("wheel-cylinder", err)
	}
	c.r.step("wheel-cylinder piston = pi/4 x (%s)² = %s", c.size(bore), amount(c.s, area))
	shoe, ratio, err = c.slave("force on each shoe", "rear", area)
	if err == nil && !math.IsNaN(float64(ratio)) {
		c.r.say("Rear: each shoe is pushed %.2f times as hard as the piston of the master cylinder.", float64(ratio))
	}
	return area, shoe, ratio, err
}

// slave works out force and ratio of pistons, as far as pressure and master
// cylinder are known.
func (c *chain) slave(what, axle string, area unit.Area) (force unit.Force, ratio unit.Ratio, err error) {
	force, ratio = unit.Force(math.NaN()), unit.Ratio(math.NaN())
	press, master := c.of(axle)
	if !math.IsNaN(float64(press)) {
		if force, err = brakes.PistonForce(press, area); err != nil {
			return force, ratio, err
		}
		c.r.step("%s = %s x %s = %s", what, own(c.s, press), own(c.s, area), amount(c.s, force))
	}
	if !math.IsNaN(float64(master)) {
		if ratio, err = brakes.HydraulicRatio(area, master); err != nil {
			return force, ratio, err
		}
		c.r.step("hydraulic ratio, %s = %s / %s = %.3f", axle, own(c.s, area), own(c.s, master), float64(ratio))
		if !math.IsNaN(float64(c.gain)) {
			c.r.step("from foot to lining, %s = %.4g x %.3f = %.2f", axle, float64(c.gain), float64(ratio), float64(c.gain*ratio))
		}
	}
	return force, ratio, nil
}

// another says what another wheel-cylinder bore does.
func (c *chain) another(shoe unit.Force) (change unit.Ratio, fresh unit.Force, share unit.Ratio, err error) {
	change, fresh, share = unit.Ratio(math.NaN()), unit.Force(math.NaN()), unit.Ratio(math.NaN())
	to, ok := c.in.length("new-wheel-cylinder")
	before, haveShare := valueOf[unit.Ratio](c.in, "rear-share")
	from, haveFrom := c.in.length("wheel-cylinder")
	switch {
	case !ok && haveShare:
		return change, fresh, share, &InputError{"rear-share", fmt.Errorf("it changes with another bore: give --new-wheel-cylinder")}
	case !ok:
		return change, fresh, share, nil
	case !haveFrom:
		return change, fresh, share, &InputError{"new-wheel-cylinder", fmt.Errorf("in place of which bore? give --wheel-cylinder")}
	}
	if change, err = brakes.AreaRatio(from, to); err != nil {
		return change, fresh, share, blame("new-wheel-cylinder", err)
	}
	c.r.step("another bore: (%s / %s)² = %.4f", c.size(to), c.size(from), float64(change))
	if !math.IsNaN(float64(shoe)) {
		fresh = unit.Force(float64(change) * float64(shoe))
		c.r.step("force on each shoe then = %.4f x %s = %s", float64(change), own(c.s, shoe), amount(c.s, fresh))
	}
	if change == 1 {
		c.r.say("The same bore: nothing changes.")
	} else {
		moved, less := 100*(float64(change)-1), 100*(1/float64(change)-1)
		pedal := "a longer pedal"
		if change < 1 {
			pedal = "a shorter pedal"
		}
		c.r.say("Force with the other bore: %+.1f %% at the same pressure.", moved)
		c.r.say("Fluid: %+.1f %% for the same shoe movement, so %s. For the same fluid the shoes move %+.1f %%.", moved, pedal, less)
		i, err := brakes.CompareSides(unit.Circle(from), unit.Circle(to))
		if err != nil {
			return change, fresh, share, err
		}
		c.r.say("On one wheel of the axle only, that is an imbalance of %.1f %%, over the higher. Both cylinders have to be one size.", i.OfHigher.Percent())
		if change > 1 {
			c.r.say("More force at the rear makes the rear wheels lock earlier, and a vehicle whose rear wheels lock first swings round. Fit the bore that the maker names.")
		} else {
			c.r.say("Less force at the rear leaves more to the front brakes, and the vehicle stops later. Fit the bore that the maker names.")
		}
	}
	if haveShare {
		if share, err = brakes.ShiftedShare(before, change); err != nil {
			return change, fresh, share, blame("rear-share", err)
		}
		c.r.step("rear share of all brake force: %.4f x %.1f %% / (100 %% - %.1f %% + %.4f x %.1f %%) = %.1f %%",
			float64(change), before.Percent(), before.Percent(), float64(change), before.Percent(), share.Percent())
	}
	return change, fresh, share, nil
}
