package calc

import (
	"fmt"
	"math"

	"chock/brakes"
	"chock/brakes/unit"
)

var wheelDrag = Calculation{
	Name:    "wheel-drag",
	Command: "drag",
	Short:   "drag of a brake that was let go: force at a stud, torque, heat on the road",
	Title:   "Drag of a wheel",
	Inputs: []Input{
		{Name: "force", Kind: unit.KindForce, Optional: true, Say: "that turns the wheel, pulled at a stud square to the line to the hub"},
		{Name: "hub-force", Kind: unit.KindForce, Optional: true, Say: "the same with the pads out: what bearing and seal take"},
		{Name: "bolt-circle", Kind: unit.KindLength, Optional: true, Typed: true, Say: "diameter of the circle through the middles of the studs"},
		{Name: "torque", Kind: unit.KindTorque, Optional: true, Say: "in place of a force: that turns the wheel"},
		{Name: "partner-force", Kind: unit.KindForce, Optional: true, Say: "the force at the wheel across the axle"},
		{Name: "partner-torque", Kind: unit.KindTorque, Optional: true, Say: "or its torque"},
		{Name: "drag-limit", Kind: unit.KindForce, Figure: true, Optional: true, Say: "most force at the stud, less that of the hub, by the vehicle's manual"},
		{Name: "brake", Kind: unit.KindWord, Optional: true, Vehicle: "AXLE-brake", Say: "disc (if not given) or drum: published figures are for discs"},
		{Name: "speed", Kind: unit.KindSpeed, Optional: true, Default: "mph", Say: "for the heat on the road"},
		{Name: "tyre-radius", Kind: unit.KindLength, Optional: true, Typed: true, Say: "from the middle of the wheel to the road"},
	},
	Limits: []Limit{
		{"drag", "drag-limit", []string{"drags", "drag-too-close", "drag-light", "drag-unknown"}},
	},
	Keys: []string{"stud_force_n", "drag_torque_nm", "heat_w", "partner_torque_nm", "extra_torque_nm", "extra_heat_w"},
	run:  runDrag,
}

// watts are the same in either system.
func watts(p unit.Power) string { return unit.Format(unit.KindPower, float64(p), "W") }

// A dragging is what is known of one wheel; NaN is unknown.
type dragging struct {
	in    inputs
	s     shower
	r     Result
	force unit.Force  // at the stud, less that of the hub
	drag  unit.Torque // of the wheel
}

func runDrag(raw map[string][]unit.Any) (Result, error) {
	nan := math.NaN()
	d := &dragging{in: inputs(raw), force: unit.Force(nan), drag: unit.Torque(nan)}
	d.s = shower{inch: d.in.customary("force", "torque", "speed", "bolt-circle")}
	brake, err := d.in.word("brake", "disc", "drum")
	if err != nil {
		return Result{}, err
	}
	if err := d.read(); err != nil {
		return Result{}, err
	}
	if err := d.judge(brake); err != nil {
		return Result{}, err
	}
	partner, extra, err := d.across()
	if err != nil {
		return Result{}, err
	}
	heat, more, err := d.heat(extra)
	if err != nil {
		return Result{}, err
	}
	r := &d.r
	r.Values = Values{
		{Key: "stud_force_n", Number: d.force.Newtons()},
		{Key: "drag_torque_nm", Number: d.drag.NewtonMetres()},
		{Key: "heat_w", Number: heat.Watts()},
		{Key: "partner_torque_nm", Number: partner.NewtonMetres()},
		{Key: "extra_torque_nm", Number: extra.NewtonMetres()},
		{Key: "extra_heat_w", Number: more.Watts()},
	}
	r.warn("Level ground, a chock at a wheel that stays down, stands under the vehicle, gear in neutral. A wheel that the engine drives turns its gears too, and reads more.")
	r.Sources = append(r.Sources, "force at a stud: torque over half the bolt circle (definition); heat: torque times how fast it turns")
	return *r, nil
}

// read takes force and torque of the wheel.
func (d *dragging) read() error {
	force, haveForce := valueOf[unit.Force](d.in, "force")
	hub, haveHub := valueOf[unit.Force](d.in, "hub-force")
	torque, haveTorque := valueOf[unit.Torque](d.in, "torque")
	circle, haveCircle := d.in.length("bolt-circle")
	if haveCircle {
		if _, err := brakes.StudForce(1, circle); err != nil {
			return blame("bolt-circle", err)
		}
	}
	switch {
	case haveForce && haveTorque:
		return &InputError{"torque", fmt.Errorf("give the force at a stud or the torque, not both")}
	case !haveForce && !haveTorque:
		return &InputError{"force", fmt.Errorf("is needed, or --torque: what turns the wheel with the brake let go")}
	case haveTorque && haveHub:
		return &InputError{"hub-force", fmt.Errorf("is taken from a force: give --force")}
	case haveTorque:
		if _, err := brakes.StudForce(torque, unit.Metre); err != nil {
			return blame("torque", err)
		}
		d.drag = torque
		d.r.step("drag = %s", amount(d.s, torque))
		if haveCircle {
			var err error
			if d.force, err = brakes.StudForce(torque, circle); err != nil {
				return blame("torque", err)
			}
			d.r.step("force at a stud = %s / (%s / 2) = %s", own(d.s, torque), typed(d.in["bolt-circle"][0]), amount(d.s, d.force))
		}
		return nil
	}
	for _, name := range []string{"force", "hub-force"} {
		if f, ok := valueOf[unit.Force](d.in, name); ok && !(f >= 0 && !math.IsInf(float64(f), 0)) {
			return &InputError{name, fmt.Errorf("%v: want 0 or more", f)}
		}
	}
	d.force = force
	d.r.step("force at a stud = %s", amount(d.s, force))
	if haveHub {
		if hub > force {
			return &InputError{"hub-force", fmt.Errorf("with the pads out it cannot take more than with them in, %v", force)}
		}
		d.force = force - hub
		d.r.step("less that of the hub: %s - %s = %s", own(d.s, force), own(d.s, hub), amount(d.s, d.force))
	}
	if haveCircle {
		var err error
		if d.drag, err = brakes.StudTorque(d.force, circle); err != nil {
			return blame("force", err)
		}
		d.r.step("drag = %s x %s / 2 = %s", own(d.s, d.force), typed(d.in["bolt-circle"][0]), amount(d.s, d.drag))
	}
	return nil
}

// judge holds the force at the stud against a limit.
func (d *dragging) judge(brake string) error {
	r := &d.r
	limit, given := valueOf[unit.Force](d.in, "drag-limit")
	mark, source := Given, "given with the readings as drag-limit"
	switch {
	case given && !(limit > 0 && !math.IsInf(float64(limit), 0)):
		return &InputError{"drag-limit", fmt.Errorf("%v is no limit: want more than 0", limit)}
	case given && math.IsNaN(float64(d.force)):
		return &InputError{"drag-limit", fmt.Errorf("it is a force at a stud: give --bolt-circle with the torque")}
	case !given && brake != "drum":
		f := brakes.DragAtStud
		limit, mark, source = f.Value, string(f.Mark), f.Source+"; "+f.Scope
	}
	if math.IsNaN(float64(d.force)) || !given && brake == "drum" {
		r.Outcomes = []string{"drag-unknown"}
		if brake == "drum" {
			r.say("No published figure was found for a drum. It should turn by hand, with at most an even light rub.")
		} else {
			r.say("One maker lets the disc brake of a medium truck drag %s just after the pedal was let go, and %s after ten turns (%s).", amount(d.s, brakes.DragAtOnce.Value), amount(d.s, brakes.DragTurned.Value), brakes.DragAtOnce.Mark)
			r.Sources = append(r.Sources, sourceFigure(d.s.inch, "drag of a medium truck", brakes.DragTurned))
		}
		return nil
	}
	// A reading off a scale, and where there are two, the one less the other.
	step := unit.Force(0)
	for _, name := range []string{"force", "hub-force"} {
		if len(d.in[name]) > 0 {
			step = max(step, unit.As[unit.Force](d.in[name][0]).Resolution)
		}
	}
	g := brakes.Gauge[unit.Force]{Step: step, Scatter: step / 2}
	u := g.Doubt(0)
	if len(d.in["hub-force"]) > 0 {
		u = g.DifferenceDoubt(0)
	}
	v, err := brakes.Judge(d.force, u, brakes.AtMost(limit), brakes.Comfort)
	if err != nil {
		return blame("force", err)
	}
	hub := len(d.in["force"]) > 0 && len(d.in["hub-force"]) == 0
	if v == unit.Outside && hub {
		v = unit.TooClose
		r.say("Bearing and seal count in that. Take it again with the pads out, and give both.")
	}
	own, other := "N", "lbf"
	if d.s.inch {
		own, other = other, own
	}
	value, bound := unit.FormatAgainst(unit.KindForce, float64(d.force), float64(limit), own)
	value2, bound2 := unit.FormatAgainst(unit.KindForce, float64(d.force), float64(limit), other)
	r.Verdicts = []Verdict{{Of: "drag", Verdict: v, Value: d.force.Newtons(), Limit: limit.Newtons(), Good: math.NaN(), Doubt: brakes.Comfort.Guard() * u.Newtons(), Unit: "N",
		Mark: mark, Asked: given, Source: source,
		Say: fmt.Sprintf("drag at a stud %s (%s), limit %s (%s), %s: %s", value, value2, bound, bound2, mark, v.Say())}}
	r.Outcomes = []string{outcome(v, "drags", "drag-too-close", "drag-light", "")}
	if !given {
		r.warn("The limit is that of some cars, for a brake pressed, let go and turned ten times. The vehicle's own comes first.")
	}
	r.Sources = append(r.Sources, sourceOf("limit", mark, source), sourceDoubt)
	if v == unit.TooClose && !hub {
		r.say("Read it again with a slow, steady pull.")
	}
	if v == unit.Outside {
		r.say("It does not let go: piston, seal, slides, hose or adjustment. A brake that drags gets hot, wears out and takes the fluid to the boil.")
	}
	return nil
}

// across compares with the wheel across the axle.
func (d *dragging) across() (partner, extra unit.Torque, err error) {
	partner, extra = unit.Torque(math.NaN()), unit.Torque(math.NaN())
	force, haveForce := valueOf[unit.Force](d.in, "partner-force")
	torque, haveTorque := valueOf[unit.Torque](d.in, "partner-torque")
	circle, haveCircle := d.in.length("bolt-circle")
	switch {
	case haveForce && haveTorque:
		return partner, extra, &InputError{"partner-torque", fmt.Errorf("give the force at a stud or the torque, not both")}
	case haveForce && !haveCircle:
		return partner, extra, &InputError{"partner-force", fmt.Errorf("takes --bolt-circle")}
	case haveTorque && math.IsNaN(float64(d.drag)):
		return partner, extra, &InputError{"partner-torque", fmt.Errorf("the drag of this wheel is not known: give --bolt-circle")}
	case haveForce:
		if hub, ok := valueOf[unit.Force](d.in, "hub-force"); ok {
			force = max(force-hub, 0) // the hub of the other wheel is taken to be as free
		}
		if partner, err = brakes.StudTorque(force, circle); err != nil {
			return partner, extra, blame("partner-force", err)
		}
	case haveTorque:
		if _, err := brakes.StudForce(torque, unit.Metre); err != nil {
			return partner, extra, blame("partner-torque", err)
		}
		partner = torque
	default:
		return partner, extra, nil
	}
	extra = d.drag - partner
	d.r.step("against the other wheel: %s - %s = %s", own(d.s, d.drag), own(d.s, partner), amount(d.s, extra))
	switch {
	case extra > 0:
		d.r.say("This wheel drags more than the one across the axle: look here first.")
	case extra < 0:
		d.r.say("The wheel across the axle drags more: look there first.")
	default:
		d.r.say("Both wheels of the axle drag alike.")
	}
	return partner, extra, nil
}

// heat is what the drag makes on the road.
func (d *dragging) heat(extra unit.Torque) (all, more unit.Power, err error) {
	all, more = unit.Power(math.NaN()), unit.Power(math.NaN())
	speed, haveSpeed := valueOf[unit.Speed](d.in, "speed")
	tyre, haveTyre := d.in.length("tyre-radius")
	if haveSpeed != haveTyre {
		name, missing := "speed", "tyre-radius"
		if haveTyre {
			name, missing = missing, name
		}
		return all, more, &InputError{name, fmt.Errorf("the heat takes both: give --%s", missing)}
	}
	if !haveSpeed {
		return all, more, nil
	}
	if math.IsNaN(float64(d.drag)) {
		return all, more, &InputError{"speed", fmt.Errorf("the heat takes a torque: give --bolt-circle")}
	}
	if _, err := brakes.DragHeat(0, speed, unit.Metre); err != nil {
		return all, more, blame("speed", err)
	}
	if all, err = brakes.DragHeat(d.drag, speed, tyre); err != nil {
		return all, more, blame("tyre-radius", err)
	}
	d.r.step("heat = %s x %s / %s = %s", own(d.s, d.drag), amount(d.s, speed), typed(d.in["tyre-radius"][0]), watts(all))
	d.r.say("All the way it heats this wheel as a room heater of %s would.", watts(all))
	if !math.IsNaN(float64(extra)) {
		if more, err = brakes.DragHeat(unit.Torque(math.Abs(float64(extra))), speed, tyre); err != nil {
			return all, more, blame("tyre-radius", err)
		}
		more = unit.Power(math.Copysign(float64(more), float64(extra)))
		d.r.step("more than the other wheel: %s", watts(more))
	}
	d.r.warn("How hot the wheel gets depends on the wind round it. A drag that grows with heat is not in this.")
	return all, more, nil
}
