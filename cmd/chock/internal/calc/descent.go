package calc

import (
	"fmt"
	"math"
	"slices"

	"chock/brakes"
	"chock/brakes/unit"
)

var longDescent = Calculation{
	Name:    "long-descent",
	Command: "descent",
	Short:   "a long hill in neutral and in a gear: what the brakes have to take up",
	Title:   "Down a long hill",
	Inputs: slices.Concat(massInputs, []Input{
		{Name: "grade", Kind: unit.KindRatio, Say: "how steep it goes down, as 6 %"},
		{Name: "speed", Kind: unit.KindSpeed, Default: "mph", Say: "speed that is kept"},
		{Name: "distance", Kind: unit.KindLength, Optional: true, Default: "mi", Say: "how long the hill is"},
		{Name: "drop", Kind: unit.KindLength, Optional: true, Default: "ft", Say: "in its place: how much height it loses"},
		{Name: "engine-drag", Kind: unit.KindPower, Optional: true, Say: "what the engine takes up in its gear at that speed, as 20 hp"},
		{Name: "engine-size", Kind: unit.KindVolume, Optional: true, Say: "in its place: displacement of the engine, as 5 L"},
		{Name: "engine-speed", Kind: unit.KindFrequency, Optional: true, Default: "rpm", Say: "and how fast it turns in that gear"},
		{Name: "rolling", Kind: unit.KindRatio, Optional: true, Say: "rolling resistance of the tyres, as 1.2 %"},
		{Name: "drag-area", Kind: unit.KindArea, Optional: true, Say: "drag coefficient times frontal area, as 1.26 m2"},
	}, ironInputs),
	Keys: descentKeys,
	run:  runDescent,
}

var descentKeys = []string{"time_s", "distance_m", "drop_m", "hill_kw", "tyres_kw", "wind_kw", "engine_kw", "brakes_neutral_kw", "brakes_in_gear_kw",
	"neutral_c", "neutral_low_c", "neutral_high_c", "in_gear_c", "in_gear_low_c", "in_gear_high_c", "steady_neutral_c", "steady_in_gear_c"}

// A hill is what is known of a descent.
type hill struct {
	in   inputs
	us   bool
	r    Result
	d    brakes.Descent // in neutral
	way  unit.Length
	took unit.Time
	gear unit.Power // of the engine; NaN where it is not known
	weak unit.Power // of an engine that holds back less than is usual; the same where its power was given

	values map[string]float64
}

func runDescent(raw map[string][]unit.Any) (Result, error) {
	h := &hill{in: inputs(raw), values: map[string]float64{}, gear: unit.Power(math.NaN())}
	h.us = h.in.us("speed", "distance", "drop", "mass", "front-load", "rotor-mass", "drum-mass")
	for _, part := range []func() error{h.road, h.length, h.engine, h.powers} {
		if err := part(); err != nil {
			return Result{}, err
		}
	}
	for _, k := range descentKeys {
		v, ok := h.values[k]
		if !ok {
			v = math.NaN()
		}
		h.r.Values = append(h.r.Values, Value{Key: k, Number: v})
	}
	return h.r, nil
}

func (h *hill) road() error {
	m, ok, err := h.in.massOfAll()
	if err != nil {
		return err
	}
	if !ok {
		return &InputError{"mass", fmt.Errorf("is needed: the weight of the vehicle as it is driven")}
	}
	g, _, err := h.in.slopeOf("grade")
	if err != nil {
		return err
	}
	if !(g > 0) {
		return &InputError{"grade", fmt.Errorf("%s: want more than 0, for a hill that goes down", h.in["grade"][0].Text)}
	}
	v, _, err := h.in.speedOf("speed")
	if err != nil {
		return err
	}
	cr, have, err := between(h.in, "rolling", unit.Ratio(0), 0.2, "0 to 20 %, as 1.2 %")
	if err != nil {
		return err
	}
	if !have {
		cr = brakes.RollingShare.Value
		h.r.Sources = append(h.r.Sources, sourceFigure(h.us, "rolling resistance", brakes.RollingShare))
	}
	area, have, err := between(h.in, "drag-area", unit.Area(0), 20, "0 to 20 m2, as 1.26 m2")
	if err != nil {
		return err
	}
	if !have {
		area = brakes.DragArea.Value
		h.r.Sources = append(h.r.Sources, "drag area 1.26 m2 (13.6 ft2): "+brakes.DragArea.Source+" ("+string(brakes.DragArea.Mark)+")")
	}
	h.d = brakes.Descent{Mass: m, Downhill: g, Speed: v, Rolling: cr, DragArea: area, Air: brakes.AirDensity.Value}
	return nil
}

func (h *hill) length() error {
	way, haveWay, err := between(h.in, "distance", 10*unit.Metre, 200*unit.Kilometre, "33 ft to 124 mi (10 m to 200 km)")
	if err != nil {
		return err
	}
	drop, haveDrop, err := between(h.in, "drop", 1*unit.Metre, 6000*unit.Metre, "3 ft to 19,700 ft (1 m to 6,000 m)")
	if err != nil {
		return err
	}
	switch {
	case haveWay && haveDrop:
		return &InputError{"drop", fmt.Errorf("give --distance or --drop: with the slope one follows from the other")}
	case haveDrop:
		way = h.d.DownWay(drop)
	case haveWay:
		drop = h.d.Drop(way)
	default:
		return &InputError{"distance", fmt.Errorf("is needed: how long is the hill? or --drop, how high")}
	}
	h.way, h.took = way, unit.Time(float64(way)/float64(h.d.Speed))
	h.values["distance_m"], h.values["drop_m"], h.values["time_s"] = way.Metres(), drop.Metres(), h.took.Seconds()
	h.r.step("%s down %.4g %% at %s: %s of height in %.1f min", inTwo(h.us, way), h.d.Downhill.Percent(), inTwo(h.us, h.d.Speed), roundWay(h.us, drop), h.took.Minutes())
	return nil
}

func (h *hill) engine() error {
	p, have, err := between(h.in, "engine-drag", unit.Power(0), 500*unit.Kilowatt, "0 to 670 hp (500 kW)")
	if err != nil {
		return err
	}
	size, haveSize, err := between(h.in, "engine-size", 0.1*unit.Litre, 30*unit.Litre, "0.1 to 30 L, as 5 L")
	if err != nil {
		return err
	}
	turns, haveTurns, err := between(h.in, "engine-speed", 300*unit.PerMinute, 9000*unit.PerMinute, "300 to 9,000 rpm")
	if err != nil {
		return err
	}
	switch {
	case have && (haveSize || haveTurns):
		return &InputError{"engine-drag", fmt.Errorf("give it, or --engine-size and --engine-speed in its place")}
	case have:
		h.gear, h.weak = p, p
	case haveSize && !haveTurns:
		return &InputError{"engine-speed", fmt.Errorf("is needed beside --engine-size: what does the counter show in that gear?")}
	case haveTurns && !haveSize:
		return &InputError{"engine-size", fmt.Errorf("is needed beside --engine-speed")}
	case haveSize:
		if h.gear, err = brakes.EngineDrag(brakes.EnginePressure.Value, size, turns); err != nil {
			return err
		}
		if h.weak, err = brakes.EngineDrag(brakes.EngineLeast.Value, size, turns); err != nil {
			return err
		}
		mep := brakes.EnginePressure.Value
		h.r.step("engine: %.0f kPa (%.0f psi) x %.2f L x %.0f rpm / 2 = %s", mep.Kilopascals(), mep.PSI(), size.Litres(), turns.PerMinute(), inTwo(h.us, h.gear))
		h.r.Sources = append(h.r.Sources, sourceFigure(h.us, "drag pressure of the engine", brakes.EnginePressure), sourceFigure(h.us, "at the least", brakes.EngineLeast))
	}
	return nil
}

// powers says who takes up what, and how hot that makes the brakes.
func (h *hill) powers() error {
	r, us := &h.r, h.us
	neutral, err := h.d.Powers()
	if err != nil {
		return blame("grade", err)
	}
	r.step("the hill gives m g v sin(angle) = %s", inTwo(us, neutral.Hill))
	r.step("the tyres take %s, the air %s", inTwo(us, neutral.Tyres), inTwo(us, neutral.Wind))
	r.step("left for the brakes in neutral: %s", inTwo(us, neutral.Brakes))
	r.Sources = append(r.Sources, "hill: forces along the slope; percent is rise over level way", sourceFigure(h.us, "air", brakes.AirDensity))
	h.values["hill_kw"], h.values["tyres_kw"], h.values["wind_kw"], h.values["brakes_neutral_kw"] = neutral.Hill.Kilowatts(), neutral.Tyres.Kilowatts(), neutral.Wind.Kilowatts(), neutral.Brakes.Kilowatts()
	geared, weak := neutral, neutral
	inGear := !math.IsNaN(float64(h.gear))
	if inGear {
		d := h.d
		d.Engine = h.gear
		if geared, err = d.Powers(); err != nil {
			return blame("engine-drag", err)
		}
		d.Engine = h.weak
		if weak, err = d.Powers(); err != nil {
			return blame("engine-drag", err)
		}
		r.step("left for the brakes in gear: %s", inTwo(us, geared.Brakes))
		h.values["engine_kw"], h.values["brakes_in_gear_kw"] = h.gear.Kilowatts(), geared.Brakes.Kilowatts()
	}
	o, err := ovenOf(h.in, us, r)
	if err != nil {
		return err
	}
	if neutral.Brakes == 0 {
		r.say("Tyres and air hold it back by themselves at this speed: the brakes have nothing to do, and it would slow down.")
	} else if !inGear {
		r.say("In neutral the brakes alone hold it. A low gear lets the engine take its part: give --engine-size and --engine-speed to see how much.")
	}
	if inGear && neutral.Brakes > 0 {
		switch left := unit.Per(geared.Brakes, neutral.Brakes); {
		case geared.Brakes == 0 && weak.Brakes > 0:
			r.say("In that gear the engine may just hold it. One that holds back less than is usual leaves the brakes %s: take a lower gear.", inTwo(us, weak.Brakes))
		case geared.Brakes == 0:
			r.say("In that gear the engine holds it alone. The brakes stay free for what comes round the bend.")
		default:
			r.say("In that gear the engine leaves the brakes %.0f %% of what they would have in neutral.", left.Percent())
		}
	}
	if o.haveIrons {
		if err := h.hot(o, neutral, geared, weak, inGear); err != nil {
			return err
		}
	} else {
		r.say("How hot that makes them takes the weight of one: --rotor-mass or --drum-mass.")
	}
	r.say("Choose the gear at the top, before it runs. Brake firmly in turns, and let go between; never coast down in neutral.")
	r.warn("%s", roughIdea)
	return nil
}

// hot sets the temperatures side by side. At the high end of what is reckoned
// the engine holds back as little as it may.
func (h *hill) hot(o *oven, neutral, geared, weak brakes.Held, inGear bool) error {
	r, us := &h.r, h.us
	one := func(p, most unit.Power, key string) (t, low, high unit.Temperature, err error) {
		for _, x := range []struct {
			at      *unit.Temperature
			p       unit.Power
			irons   brakes.Irons
			cooling unit.Time
			key     string
		}{{&t, p, o.irons, o.cooling, key + "_c"}, {&low, p, o.low, o.quickest, key + "_low_c"}, {&high, most, o.irons, o.slowest, key + "_high_c"}} {
			if *x.at, err = x.irons.After(x.p, o.start, o.air, h.took, x.cooling); err != nil {
				return t, low, high, err
			}
			h.values[x.key] = x.at.Celsius()
		}
		steady, err := o.irons.Steady(p, o.air, o.cooling)
		h.values["steady_"+key+"_c"] = steady.Celsius()
		return t, low, high, err
	}
	i := o.irons
	inside := ""
	if i.Inside < 1 {
		inside = fmt.Sprintf(" x %.4g %%", i.Inside.Percent())
	}
	r.step("%d %ss of %s take %.4g %%%s of it, and lose 63 %% of what is over the air in %.1f min", i.Count, o.what, inTwo(us, i.Each), i.Axle.Percent(), inside, o.cooling.Minutes())
	t, low, high, err := one(neutral.Brakes, neutral.Brakes, "neutral")
	if err != nil {
		return err
	}
	r.step("in neutral: %s if it went on for ever, %s at the bottom", ten(us, unit.Celsius(h.values["steady_neutral_c"])), ten(us, t))
	r.say("In neutral each %s comes to near %s at the bottom. With iron and cooling reckoned low and high: %s.", o.what, ten(us, t), tenBand(us, low, high))
	r.Sources = append(r.Sources, "heat of a descent: steady supply with Newton's cooling")
	if inGear {
		g, glow, ghigh, err := one(geared.Brakes, weak.Brakes, "in_gear")
		if err != nil {
			return err
		}
		r.step("in gear: %s if it went on for ever, %s at the bottom", ten(us, unit.Celsius(h.values["steady_in_gear_c"])), ten(us, g))
		switch {
		case h.weak < h.gear && weak.Brakes > 0:
			r.say("In that gear it comes to near %s, with the same doubt and that of the engine %s.", ten(us, g), tenBand(us, glow, ghigh))
		case geared.Brakes > 0:
			r.say("In that gear it comes to near %s, with the same doubt %s.", ten(us, g), tenBand(us, glow, ghigh))
		}
		if d := t.Above(g); d > 20 {
			r.say("The gear is worth about %s.", tenDegrees(us, d))
		}
		o.fade("In that gear it", g, ghigh)
	}
	o.fade("In neutral it", t, high)
	o.signs(t)
	o.glow(high, unit.Celsius(h.values["steady_neutral_c"]))
	o.taken(true)
	return nil
}
