package calc

import "chock/brakes/unit"

var gaugeError = Input{Name: "gauge-error", Kind: unit.KindLength, Optional: true, Typed: true,
	Say: "how far the gauge may be off: plus or minus this"}

var rotorThickness = Calculation{
	Name:    "rotor-thickness",
	Command: "rotor",
	Short:   "a rotor's thickness and runout against their limits",
	Title:   "Thickness round the rotor",
	Inputs: []Input{
		{Name: "thickness", Kind: unit.KindLength, List: true, Typed: true, Say: "micrometer readings round the rotor, the first at stud 1, all at one distance from the rim"},
		{Name: "discard", Kind: unit.KindLength, Figure: true, Optional: true, Typed: true, Vehicle: "AXLE-rotor-discard", Say: "discard thickness, cast on the rotor"},
		{Name: "machine-to", Kind: unit.KindLength, Figure: true, Optional: true, Typed: true, Vehicle: "AXLE-rotor-machine-to", Say: "least thickness after turning it down"},
		{Name: "variation-limit", Kind: unit.KindLength, Figure: true, Optional: true, Typed: true, Vehicle: "AXLE-variation-limit", Say: "most that the thickness may vary round the turn"},
		gaugeError,
	},
	Limits: []Limit{
		{"discard", "discard", []string{"below-discard", "discard-too-close", "above-discard", "discard-unknown"}},
		{"variation", "variation-limit", []string{"varies", "variation-too-close", "even"}},
		{"refinish", "machine-to", []string{"no-stock-to-cut", "stock-too-close", "stock-to-cut", "stock-unknown"}},
	},
	Keys: []string{"least_thickness_mm", "least_at_deg", "above_discard_mm", "stock_to_cut_mm", "thickness_variation_mm", "thickness_scatter_mm", "thickness_orders"},
	run:  runThickness,
	numbers: func(in inputs) (Result, error) {
		t, err := readThickness(in)
		if err != nil {
			return Result{}, err
		}
		return t.result()
	},
}

var rotorRunout = Calculation{
	Name:    "rotor-runout",
	Command: "rotor",
	Title:   "Runout of the face",
	Inputs: []Input{
		{Name: "dial", Kind: unit.KindLength, List: true, Typed: true, Say: "dial readings round the face, the first at stud 1, then the way the studs are numbered"},
		{Name: "closing", Kind: unit.KindLength, Optional: true, Typed: true, Say: "the first position read again after the turn"},
		{Name: "runout-limit", Kind: unit.KindLength, Figure: true, Optional: true, Typed: true, Vehicle: "AXLE-runout-limit", Say: "most that the rotor may run out"},
		gaugeError,
		{Name: "studs", Kind: unit.KindCount, Optional: true, Say: "how many studs the hub has"},
	},
	Limits: []Limit{
		{"runout", "runout-limit", []string{"runs-out", "runout-too-close", "runs-true"}},
	},
	Keys: []string{"runout_mm", "runout_scatter_mm", "closing_error_mm", "runout_orders"},
	run:  runRunout,
	numbers: func(in inputs) (Result, error) {
		t, err := readRunout(in)
		if err != nil {
			return Result{}, err
		}
		return t.result()
	},
}

var rotorIndex = Calculation{
	Name:    "rotor-index",
	Command: "index",
	Short:   "hub and rotor told apart: where the rotor sits best",
	Title:   "Hub and rotor told apart",
	Inputs: []Input{
		{Name: "studs", Kind: unit.KindCount, Say: "how many studs the hub has"},
		{Name: "dial", Kind: unit.KindLength, List: true, Typed: true, Say: "dial readings round the face, the first at stud 1, then the way the studs are numbered"},
		{Name: "dial-moved", Kind: unit.KindLength, List: true, Typed: true, Say: "the same at the same marks on the hub, with the rotor moved on"},
		{Name: "moved", Kind: unit.KindCount, Say: "how many studs the rotor was moved on: its own stud-1 mark now stands at stud 1 and so many"},
		{Name: "runout-limit", Kind: unit.KindLength, Figure: true, Optional: true, Typed: true, Vehicle: "AXLE-runout-limit", Say: "most that the rotor may run out"},
		gaugeError,
	},
	Limits: []Limit{
		{"index", "runout-limit", []string{"index-cannot-cure", "index-may-cure", "index-cures"}},
	},
	Keys: []string{"hub", "rotor", "positions", "best_studs", "rest_mm", "tilt_doubt_mm"},
	run:  runIndex,
}

var drumDiameter = Calculation{
	Name:    "drum-diameter",
	Command: "drum",
	Short:   "a drum's diameter and roundness against their limits",
	Title:   "Diameters of the drum",
	Inputs: []Input{
		{Name: "open", Kind: unit.KindLength, List: true, Typed: true, Say: "diameters at the open edge, equally spaced over half a turn"},
		{Name: "closed", Kind: unit.KindLength, List: true, Optional: true, Typed: true, Say: "the same at the closed edge, the wheel side"},
		{Name: "middle", Kind: unit.KindLength, List: true, Optional: true, Typed: true, Say: "the same half way between"},
		{Name: "discard", Kind: unit.KindLength, Figure: true, Optional: true, Typed: true, Vehicle: "AXLE-drum-max", Say: "largest diameter, cast or stamped on the drum"},
		{Name: "machine-to", Kind: unit.KindLength, Figure: true, Optional: true, Typed: true, Say: "largest diameter after turning it out"},
		{Name: "roundness-limit", Kind: unit.KindLength, Figure: true, Optional: true, Typed: true, Vehicle: "AXLE-drum-roundness", Say: "most that the diameters of one edge may differ"},
		gaugeError,
	},
	Limits: []Limit{
		{"discard", "discard", []string{"above-discard", "discard-too-close", "below-discard", "discard-unknown"}},
		{"roundness", "roundness-limit", []string{"out-of-round", "roundness-too-close", "round"}},
	},
	Keys: []string{"largest_mm", "out_of_round_mm", "oval_mm", "oval_at_deg", "taper_mm", "bell_mouth_mm", "barrel_mm", "room_to_cut_mm"},
	run:  runDrum,
}

var liningLife = Calculation{
	Name:    "lining-life",
	Command: "lining",
	Short:   "how much lining is left, how evenly worn, and for how far",
	Title:   "Lining",
	Inputs: []Input{
		{Name: "now", Kind: unit.KindLength, Optional: true, Typed: true, Say: "lining at its thinnest place, without the plate or shoe under it"},
		{Name: "inner", Kind: unit.KindLength, List: true, Optional: true, Typed: true, Say: "in its place: inner pad, one reading or several from end to end"},
		{Name: "outer", Kind: unit.KindLength, List: true, Optional: true, Typed: true, Say: "the same of the outer pad"},
		{Name: "partner", Kind: unit.KindLength, Optional: true, Typed: true, Say: "thinnest lining of the wheel across the axle"},
		leastLining,
		{Name: "new", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "AXLE-lining-new", Say: "thickness of the lining when it was new"},
		{Name: "miles", Kind: unit.KindLength, Optional: true, Default: "mi", Say: "how far it has gone since"},
		{Name: "trip", Kind: unit.KindLength, Optional: true, Default: "mi", Say: "how far it is to go"},
		{Name: "taper-limit", Kind: unit.KindLength, Figure: true, Optional: true, Typed: true, Say: "most that one end may be thicker than the other"},
	},
	Limits: []Limit{
		{"lining", "least", []string{"lining-gone", "lining-too-close", "lining-enough"}},
		{"trip", "trip", []string{"trip-too-far", "trip-doubtful", "trip-covered", "trip-unknown"}},
		{"pair", "", []string{"inner-thin", "outer-thin", "pair-too-close", "pair-alike", "pair-unknown"}},
		{"side", "", []string{"thinner-than-partner", "thicker-than-partner", "side-too-close", "side-alike", "side-unknown"}},
		{"taper", "taper-limit", []string{"tapers", "taper-too-close", "taper-even", "taper-unknown"}},
	},
	Keys: []string{"thinnest_mm", "above_least_mm", "pair_difference_mm", "side_difference_mm", "taper_mm",
		"wear_mm_per_1000_miles", "miles_left", "miles_left_low", "miles_left_high", "after_trip_mm", "after_trip_low_mm"},
	run: runLiningLife,
}

var hydraulicRatio = Calculation{
	Name:    "hydraulic-ratio",
	Command: "ratio",
	Short:   "from foot to lining: pressure, forces, hydraulic ratio, another bore",
	Title:   "From foot to lining",
	Inputs: []Input{
		{Name: "pedal-force", Kind: unit.KindForce, Optional: true, Default: "lbf", Say: "force of the foot on the pedal"},
		{Name: "pedal-ratio", Kind: unit.KindRatio, Optional: true, Vehicle: "pedal-ratio", Say: "pivot to pad over pivot to rod, as 6.2 or 6.2:1"},
		{Name: "booster-gain", Kind: unit.KindRatio, Optional: true, Vehicle: "booster-gain", Say: "by how much the booster multiplies, below its run-out"},
		boosterDiaphragm, boosterVacuum,
		{Name: "altitude", Kind: unit.KindLength, Optional: true, Default: "ft", Say: "how high the road is, where the vacuum was read at sea level"},
		{Name: "cut-in", Kind: unit.KindForce, Optional: true, Default: "lbf", Say: "rod force that opens the booster's valve"},
		{Name: "jump-in", Kind: unit.KindForce, Optional: true, Default: "lbf", Say: "what the booster gives at once as its valve opens"},
		{Name: "line-pressure", Kind: unit.KindPressure, Optional: true, Say: "a pressure to reach, as 1000 psi: what foot it takes"},
		{Name: "master", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "master-bore", Say: "bore of the master cylinder; of a stepped one that of the section which the rod pushes"},
		{Name: "second-master", Kind: unit.KindLength, Optional: true, Typed: true, Say: "bore of the second section, where it is another"},
		{Name: "second-feeds", Kind: unit.KindWord, Optional: true, Say: "front or rear: which axle that section feeds (rear if not given)"},
		{Name: "caliper", Kind: unit.KindLength, List: true, Optional: true, Typed: true, Vehicle: "front-piston-bore", Say: "piston of a front caliper; of a stepped one the pistons of one side, each once"},
		{Name: "pistons", Beside: "caliper", Kind: unit.KindCount, Optional: true, Vehicle: "front-pistons", Say: "how many such pistons on one side of the caliper: of four opposed ones, two (1 if not given)"},
		{Name: "wheel-cylinder", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "rear-wheel-cylinder-left", Say: "bore of a rear wheel cylinder: one of its two pistons pushes one shoe"},
		{Name: "new-wheel-cylinder", Kind: unit.KindLength, Optional: true, Typed: true, Say: "another bore in its place"},
		{Name: "rear-share", Kind: unit.KindRatio, Optional: true, Say: "the rear's share of all brake force today, as 30 %: what another bore makes of it"},
	},
	Keys: []string{"rod_force_n", "line_pressure_kpa", "master_area_mm2", "caliper_area_mm2", "wheel_cylinder_area_mm2",
		"clamp_force_n", "shoe_force_n", "hydraulic_ratio_front", "hydraulic_ratio_rear", "total_ratio_front", "total_ratio_rear",
		"new_shoe_force_n", "force_change_percent", "volume_change_percent", "travel_change_percent", "new_rear_share_percent",
		"second_master_area_mm2", "second_line_pressure_kpa", "vacuum_kpa", "knee_rod_force_n", "knee_pedal_force_n",
		"half_vacuum_pressure_kpa", "half_vacuum_lost_percent", "no_vacuum_pressure_kpa", "no_vacuum_lost_percent",
		"needed_pedal_force_n", "needed_half_vacuum_n", "needed_no_vacuum_n"},
	run: runRatio,
}

var brakePull = Calculation{
	Name:    "brake-pull",
	Command: "pull",
	Short:   "left brake force against right, what it does to the vehicle, and linings of two letters",
	Title:   "Left against right",
	Inputs: []Input{
		{Name: "left", Kind: unit.KindForce, Optional: true, Default: "kgf", Say: "most brake force of the left wheel, on a tester"},
		{Name: "right", Kind: unit.KindForce, Optional: true, Default: "kgf", Say: "most brake force of the right wheel"},
		{Name: "axle", Kind: unit.KindWord, Optional: true, Say: "front or rear: a rule may be stricter where the axle steers"},
		{Name: "locked", Kind: unit.KindWord, Optional: true, Say: "left, right or both: a wheel that locked and slid"},
		{Name: "imbalance-limit", Kind: unit.KindRatio, Figure: true, Optional: true, Say: "most imbalance allowed, over the higher, as 25 %"},
		{Name: "track", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "AXLE-track", Say: "from the middle of one tread to that of the other: what turns the vehicle"},
		{Name: "wheelbase", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "wheelbase", Say: "from axle to axle: what the tyres hold against that"},
		{Name: "scrub", Kind: unit.KindLength, Optional: true, Typed: true, Say: "scrub radius: on the road, from the steering axis out to the middle of the tread; negative where the axis lies outside"},
		{Name: "lean", Kind: unit.KindAngle, Optional: true, Default: "deg", Say: "by how much the steering axis leans inward"},
		{Name: "left-code", Kind: unit.KindWord, Optional: true, Say: "letters on the edge of the left lining, as FF or FE B16; forces are not needed then"},
		{Name: "right-code", Kind: unit.KindWord, Optional: true, Say: "letters on the edge of the right lining"},
		{Name: "brake", Kind: unit.KindWord, Optional: true, Vehicle: "AXLE-drum-shoes", Say: "for the letters: disc, leading-trailing, twin-leading or duo-servo"},
	},
	Limits: []Limit{
		{"imbalance", "imbalance-limit", []string{"over-limit", "limit-too-close", "within-limit", "limit-unknown"}},
		{"uk-major", "", []string{"uk-major", "uk-not-major", "uk-major-unknown"}},
		{"uk-dangerous", "", []string{"uk-dangerous", "uk-not-dangerous", "uk-dangerous-unknown"}},
		{"us-in-use", "", []string{"us-broken", "us-kept", "us-unknown"}},
		{"codes", "", []string{"codes-differ", "codes-alike", "codes-unknown"}},
	},
	Keys: []string{"imbalance_percent", "imbalance_percent_of_lower", "imbalance_percent_of_mean", "doubt_percent", "left_less_right_n",
		"yaw_moment_nm", "side_force_n", "steering_torque_nm", "code_imbalance_low_percent", "code_imbalance_middle_percent", "code_imbalance_high_percent",
		"code_hot_imbalance_low_percent", "code_hot_imbalance_middle_percent", "code_hot_imbalance_high_percent"},
	run: runPull,
}

// The rest has no command of its own: what the talk compares from answers and
// single readings that it has already.

var sides = Calculation{
	Name:  "sides",
	Title: "Left against right",
	Inputs: []Input{
		{Name: "amount", Kind: unit.KindWord, List: true, Say: "an answer for each wheel: front left, front right, rear left, rear right; unsure where it is not known"},
	},
	Limits: []Limit{
		{"front", "", []string{"front-left-more", "front-right-more", "front-alike", "front-unknown"}},
		{"rear", "", []string{"rear-left-more", "rear-right-more", "rear-alike", "rear-unknown"}},
	},
	Keys: []string{"front_left_over_right_answers", "rear_left_over_right_answers"},
	run:  runSides,
}

var liningWear = Calculation{
	Name:  "lining-wear",
	Title: "Linings of one wheel",
	Inputs: []Input{
		{Name: "inner", Kind: unit.KindLength, Typed: true, Say: "lining of the inner pad at its thinnest place, without the steel plate"},
		{Name: "outer", Kind: unit.KindLength, Typed: true, Say: "the same of the outer pad"},
		leastLining,
	},
	Limits: []Limit{
		{"lining", "least", []string{"lining-gone", "lining-too-close", "lining-enough"}},
		{"pair", "", []string{"inner-thin", "outer-thin", "pair-too-close", "pair-alike"}},
	},
	Keys: []string{"thinnest_mm", "above_least_mm", "pair_difference_mm"},
	run:  runLiningWear,
}

var leastLining = Input{Name: "least", Vehicle: "AXLE-lining-least", Kind: unit.KindLength, Figure: true, Optional: true, Typed: true,
	Say: "least lining that the vehicle's manual allows"}

var liningSides = Calculation{
	Name:  "lining-sides",
	Title: "Linings left against right",
	Inputs: []Input{
		{Name: "inner", Kind: unit.KindLength, List: true, Typed: true, Say: "inner pads: front left, front right, rear left, rear right"},
		{Name: "outer", Kind: unit.KindLength, List: true, Typed: true, Say: "outer pads in the same order"},
	},
	Limits: []Limit{
		{"front", "", []string{"front-left-thin", "front-right-thin", "front-alike", "front-unknown"}},
		{"rear", "", []string{"rear-left-thin", "rear-right-thin", "rear-alike", "rear-unknown"}},
	},
	Keys: []string{"front_left_less_right_mm", "rear_left_less_right_mm"},
	run:  runLiningSides,
}

var cylinderBores = Calculation{
	Name:  "cylinder-bores",
	Title: "Wheel-cylinder bores of an axle",
	Inputs: []Input{
		{Name: "left", Kind: unit.KindLength, Typed: true, Say: "bore of the left wheel cylinder, as cast on it"},
		{Name: "right", Kind: unit.KindLength, Typed: true, Say: "bore of the right wheel cylinder"},
	},
	Limits: []Limit{
		{"bores", "", []string{"bores-unequal", "bores-alike"}},
	},
	Keys: []string{"left_over_right_percent", "imbalance_percent"},
	run:  runBores,
}
