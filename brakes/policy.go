package brakes

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"chock/brakes/unit"
)

// Yours is the mark of a limit that a person wrote down for themselves.
const Yours Mark = "yours"

// A Measurand is something that a rule in use speaks about.
type Measurand string

// The measurands.
const (
	OfLining         Measurand = "lining"
	OfRivets         Measurand = "rivet-lining"
	OfRotor          Measurand = "rotor"
	OfDrum           Measurand = "drum"
	OfPedal          Measurand = "pedal-used"
	OfPedalFoot      Measurand = "pedal-foot"
	OfStrokes        Measurand = "pedal-strokes"
	OfHold           Measurand = "hold"
	OfHoldFoot       Measurand = "hold-foot"
	OfImbalance      Measurand = "imbalance"
	OfImbalanceLower Measurand = "imbalance-of-lower"
	OfHigherForce    Measurand = "higher-force"
	OfBrakeForce     Measurand = "brake-force"
	OfSecondary      Measurand = "secondary-force"
	OfParking        Measurand = "parking-force"
	OfDecel          Measurand = "decel"
	OfStop           Measurand = "stop"
	OfEmergency      Measurand = "emergency-stop"
	OfReservoir      Measurand = "reservoir"
	OfFluid          Measurand = "fluid-below-top"
	OfVacuum         Measurand = "vacuum-kept"
	OfRim            Measurand = "rim-runout"
	OfTread          Measurand = "tread"
	OfPlay           Measurand = "bearing-play"
	OfGross          Measurand = "gross"
)

// A Measured says what a measurand is.
type Measured struct {
	ID      Measurand
	Kind    unit.Kind
	Say     string              // as it stands before its value: "lining"
	How     string              // what is measured, and how
	Between string              // where a limit for it can lie: what is outside is a slip of the pen
	About   bool                // it is only what another reading was taken under
	Scatter Figure[unit.Length] // of reading it again, where a figure of ours says so
}

// Measurands lists them: the closed list of what rules can speak about.
func Measurands() []Measured {
	return []Measured{
		{ID: OfLining, Kind: unit.KindLength, Say: "lining", How: "a pad, or a glued-on lining, over its plate or shoe, at the thinnest place", Between: "0.3 mm to 30 mm", Scatter: RuleScatter},
		{ID: OfRivets, Kind: unit.KindLength, Say: "lining over the rivets", How: "a riveted lining, over the heads of its rivets", Between: "0.1 mm to 20 mm", Scatter: RuleScatter},
		{ID: OfRotor, Kind: unit.KindLength, Say: "rotor", How: "a rotor at its thinnest", Between: "3 mm to 60 mm", Scatter: MicrometerScatter},
		{ID: OfDrum, Kind: unit.KindLength, Say: "drum", How: "a drum at its widest", Between: "100 mm to 500 mm", Scatter: DrumGaugeScatter},
		{ID: OfPedal, Kind: unit.KindRatio, Say: "pedal travel used", How: "of the pedal's way from free to the floor, the share that it goes down", Between: "10 % to 100 %"},
		{ID: OfPedalFoot, Kind: unit.KindForce, Say: "foot", How: "how hard it was pressed for that", Between: "10 N to 1000 N", About: true},
		{ID: OfStrokes, Kind: unit.KindCount, Say: "strokes for a firm pedal", How: "strokes, engine running, until the pedal has reserve", Between: "1 to 10"},
		{ID: OfHold, Kind: unit.KindTime, Say: "pedal held", How: "how long the pressed pedal stayed up, until it sank or the foot came off", Between: "1 s to 30 min"},
		{ID: OfHoldFoot, Kind: unit.KindForce, Say: "foot", How: "how hard it was held for that", Between: "10 N to 1000 N", About: true},
		{ID: OfImbalance, Kind: unit.KindRatio, Say: "imbalance over the higher", How: "brake force left against right on one axle, the difference over the higher", Between: "1 % to 100 %"},
		{ID: OfImbalanceLower, Kind: unit.KindRatio, Say: "imbalance over the lower", How: "the same difference over the lower", Between: "1 % to 100 %"},
		{ID: OfHigherForce, Kind: unit.KindForce, Say: "higher force", How: "the higher brake force of that axle", Between: "10 N to 50 kN", About: true},
		{ID: OfBrakeForce, Kind: unit.KindRatio, Say: "brake force over weight", How: "all brake force of the foot brake over the weight of the vehicle", Between: "5 % to 120 %"},
		{ID: OfSecondary, Kind: unit.KindRatio, Say: "second brake over weight", How: "brake force of the second brake over the weight, where there is one circuit only", Between: "5 % to 100 %"},
		{ID: OfParking, Kind: unit.KindRatio, Say: "parking brake over weight", How: "brake force of the parking brake over the weight", Between: "2 % to 100 %"},
		{ID: OfDecel, Kind: unit.KindAcceleration, Say: "deceleration", How: "how fast it slows from 20 mph (32 km/h)", Between: "0.5 m/s2 to 12 m/s2"},
		{ID: OfStop, Kind: unit.KindLength, Say: "stop from 20 mph", How: "the way it takes to stand from 20 mph (32 km/h), from the first movement of the pedal", Between: "3 m to 40 m"},
		{ID: OfEmergency, Kind: unit.KindLength, Say: "emergency stop from 20 mph", How: "the same with the emergency brake alone", Between: "3 m to 100 m"},
		{ID: OfReservoir, Kind: unit.KindRatio, Say: "reservoir full", How: "how full the fluid reservoir is", Between: "5 % to 100 %"},
		{ID: OfFluid, Kind: unit.KindLength, Say: "fluid below the top", How: "how far the fluid stands below the top of its reservoir", Between: "1 mm to 100 mm"},
		{ID: OfVacuum, Kind: unit.KindRatio, Say: "vacuum kept", How: "what the gauge shows after one full stroke with the engine off, over what it showed before", Between: "10 % to 100 %"},
		{ID: OfRim, Kind: unit.KindLength, Say: "runout of the rim", How: "a rim at its bead, sideways or up and down, over a whole turn", Between: "0.1 mm to 10 mm", Scatter: DialScatter},
		{ID: OfTread, Kind: unit.KindLength, Say: "tread", How: "depth of a main groove of a tyre", Between: "0.5 mm to 20 mm"},
		{ID: OfPlay, Kind: unit.KindLength, Say: "play of the bearing", How: "end play of a front hub by a dial", Between: "0.005 mm to 3 mm", Scatter: DialScatter},
		{ID: OfGross, Kind: unit.KindMass, Say: "gross weight", How: "the most that the vehicle may weigh, from its plate", Between: "300 kg to 50000 kg", About: true},
	}
}

var measuredBy = sync.OnceValue(func() map[Measurand]Measured {
	by := map[Measurand]Measured{}
	for _, m := range Measurands() {
		by[m.ID] = m
	}
	return by
})

// measured finds a measurand; ok is false for one that is none.
func measured(id Measurand) (m Measured, ok bool) {
	m, ok = measuredBy()[id]
	return m, ok
}

// A Must says how a reading has to stand to a limit, as the text has it: "not
// less than" is at least, "no more than" is at most.
type Must string

// The four ways. They differ at the limit itself.
const (
	NoLess Must = "at least"
	More   Must = "more than"
	NoMore Must = "at most"
	Less   Must = "less than"
)

// Musts lists them.
func Musts() []Must { return []Must{NoLess, More, NoMore, Less} }

// lower reports whether a limit is one that a reading must not be under.
func (m Must) lower() bool { return m == NoLess || m == More }

// Met reports whether x stands to the limit as m says. What rounding alone
// moves across the limit counts as on it.
//
//	at least   x >= L        more than  x > L
//	at most    x <= L        less than  x < L
func (m Must) Met(x, limit float64) bool {
	on := math.Abs(x-limit) <= 1e-9*math.Abs(limit)
	switch m {
	case NoLess:
		return on || x > limit
	case More:
		return !on && x > limit
	case NoMore:
		return on || x < limit
	case Less:
		return !on && x < limit
	}
	return false
}

// A Date is a day as a number, 20100901; 0 is none.
type Date int

func (d Date) String() string {
	months := [...]string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}
	if m := int(d) / 100 % 100; m >= 1 && m <= 12 {
		return fmt.Sprintf("%d %s %d", int(d)%100, months[m-1], int(d)/10000)
	}
	return fmt.Sprint(int(d))
}

// A ForFact is a word about the vehicle, or about how a reading was taken, on
// which it depends whether a rule is for it: Of is one of the names below, Is
// the words for which it is.
type ForFact struct {
	Of string
	Is []string
}

// Facts are those names with their words.
func Facts() []ForFact {
	return []ForFact{
		{"use", []string{"private", "commercial"}},
		{"carries", []string{"people", "bus", "goods"}},
		{"axle", []string{"front", "rear"}},
		{"booster", []string{"none", "vacuum", "hydraulic"}},
		{"trailer", []string{"yes", "no"}},
		{"braked", []string{"all", "some"}},
		{"hub", []string{"adjustable", "sealed"}},
		{"locked", []string{"yes", "no"}},
		{"sank", []string{"yes", "no"}},
	}
}

// factSay puts a fact into words.
var factSay = map[string]string{
	"use commercial": "for a commercial vehicle", "use private": "for a private vehicle",
	"carries people": "for a car", "carries bus": "for a bus", "carries goods": "for a truck or van",
	"axle front": "for an axle that steers", "axle rear": "for an axle that does not steer",
	"booster none": "without a booster", "booster vacuum hydraulic": "with a booster",
	"trailer yes": "with a trailer", "trailer no": "without a trailer",
	"braked all": "with brakes on all wheels", "braked some": "with brakes not on all wheels",
	"hub adjustable": "for a hub that is adjusted", "hub sealed": "for a sealed hub",
	"locked no": "unless the weaker wheel locked", "locked yes": "where the weaker wheel locked",
	"sank no": "for a pedal that did not sink", "sank yes": "for a pedal that sank",
}

func (f ForFact) say() string { return factSay[f.Of+" "+strings.Join(f.Is, " ")] }

// A Condition is a reading on which it depends whether a rule is for it: a
// gross weight, the force of a foot.
type Condition struct {
	Of    Measurand
	Must  Must
	Limit Listed
	// Still is what a rule says all the same where the condition is not met: a
	// pedal that sinks under a lighter foot breaks the rule as well, and one
	// that holds under a harder foot keeps it. NoLimit where it says nothing.
	Still unit.Verdict
}

// foot reports whether it is how hard a foot presses: no matter of the
// vehicle, but of how the reading was taken.
func (c Condition) foot() bool { return c.Still != unit.NoLimit }

func (c Condition) say() string {
	v := roundly(c.Limit.Value)
	switch {
	case c.Of == OfGross && c.Must == NoMore:
		return "up to " + v
	case c.Of == OfGross:
		return "over " + v
	case c.Of == OfHigherForce:
		return "where the higher force is over " + v
	}
	return fmt.Sprintf("under a foot of %s %s", c.Must, v)
}

// roundly shows an amount first in the unit in which its rule has a round
// number, then in the other system.
func roundly(a unit.Any) string {
	pairs := [][2]string{{"lbf", "N"}, {"kgf", "N"}, {"N", "lbf"}}
	if a.Kind == unit.KindMass {
		pairs = [][2]string{{"lb", "kg"}, {"kg", "lb"}}
	}
	for _, pair := range pairs {
		v, ok := a.In(pair[0])
		if ok && (math.Abs(v-math.Round(v)) < 1e-6 || pair[0] == "N") {
			return unit.FormatTo(a.Kind, a.SI, pair[0], 0) + " (" + unit.FormatTo(a.Kind, a.SI, pair[1], 0) + ")"
		}
	}
	return a.Both()
}

// footSay puts the conditions of a foot into one phrase, "" where there are
// none.
func footSay(when []Condition) string {
	var feet []Condition
	for _, w := range when {
		if w.foot() {
			feet = append(feet, w)
		}
	}
	switch {
	case len(feet) == 0:
		return ""
	case len(feet) == 1:
		return feet[0].say()
	case feet[0].Limit.Value.SI == feet[1].Limit.Value.SI:
		return "under a foot of " + roundly(feet[0].Limit.Value)
	}
	return "under a foot of " + roundly(feet[0].Limit.Value) + " to " + roundly(feet[1].Limit.Value)
}

// A Rule is one demand of a policy.
type Rule struct {
	ID     string // within its policy
	Of     Measurand
	Must   Must
	Limit  Listed // a figure, with its mark, its source and what it is for
	Own    bool   // the limit is the part's own: cast on it, or its maker's. Limit has no value then
	Called string // what breaking it is called there: fail, reject, major, dangerous
	Means  string // what to do about it, where the reading alone says so
	Only   []ForFact
	When   []Condition
	From   Date // only a vehicle first used on that day or later
	Before Date // only one first used before that day
}

// A Policy is a set of rules that somebody holds vehicles in use to. A limit
// is a policy and no constant: one pedal meets one of them and breaks another.
type Policy struct {
	Name         string // us-570-light
	Say          string
	Jurisdiction string
	Edition      string
	Guarded      bool // a reading has to clear its limits by its own doubt
	Rules        []Rule
}

// A Case is what is known of one vehicle.
type Case struct {
	Read  map[Measurand]unit.Any
	Own   map[Measurand]unit.Any // limits of its parts
	Facts map[string]string
	// First is when it was first used or registered: between these days. 0 is
	// not known.
	First [2]Date
}

// read gives a reading, or one that follows from another.
func (c Case) read(m Measurand) (unit.Any, bool) {
	if a, ok := c.Read[m]; ok {
		return a, true
	}
	// Over the lower and over the higher are one measurement:
	// (H - L)/L = i/(1 - i) where i = (H - L)/H.
	if h, ok := c.Read[OfImbalance]; ok && m == OfImbalanceLower && h.SI >= 0 && h.SI <= 1 {
		l := h
		l.SI, l.Resolution = h.SI/(1-h.SI), h.Resolution/((1-h.SI)*(1-h.SI))
		if h.SI == 1 {
			l.SI, l.Resolution = math.Inf(1), 0
		}
		return l, true
	}
	return unit.Any{}, false
}

// A Finding is how one rule stands to a case.
type Finding struct {
	Policy  string
	Rule    Rule
	Value   unit.Any
	Limit   unit.Any // no kind where none is known
	Verdict unit.Verdict
	Doubt   float64  // standard uncertainty of the value, SI
	Near    bool     // its doubt could turn the verdict
	If      []string // what is not known and has to be so for the rule to be for it
	Not     string   // why the rule is not for it; "" where it is, or may be
	Unread  bool     // nothing was read for it
}

// fact reports whether a fact holds, and whether that is known.
func (c Case) fact(f ForFact) (holds, known bool) {
	w, ok := c.Facts[f.Of]
	return ok && slices.Contains(f.Is, w), ok
}

// fits says whether the rule is for the case: what is not known of it, and why
// it is not. still is what it says all the same.
func (r Rule) fits(c Case) (open []string, not string, still unit.Verdict) {
	for _, f := range r.Only {
		switch holds, known := c.fact(f); {
		case !known && f.Of == "locked": // the odd case is told, the usual one is not
		case !known:
			open = append(open, f.say())
		case !holds:
			return nil, "only " + f.say(), unit.NoLimit
		}
	}
	for _, d := range []struct {
		day    Date
		before bool
	}{{r.From, false}, {r.Before, true}} {
		if d.day == 0 {
			continue
		}
		words := "first used from " + d.day.String()
		if d.before {
			words = "first used before " + d.day.String()
		}
		switch lo, hi := c.First[0], c.First[1]; {
		case lo == 0 || lo < d.day && hi >= d.day:
			open = append(open, words)
		case (lo >= d.day) == d.before:
			return nil, "only " + words, unit.NoLimit
		}
	}
	for _, w := range r.When {
		switch x, ok := c.read(w.Of); {
		case !ok && w.Of == OfHigherForce: // as above
		case !ok && w.foot():
			if say := footSay(r.When); !slices.Contains(open, say) {
				open = append(open, say)
			}
		case !ok:
			open = append(open, w.say())
		case !w.Must.Met(x.SI, w.Limit.Value.SI):
			if w.Still == unit.NoLimit {
				return nil, "only " + w.say(), unit.NoLimit
			}
			still, not = w.Still, "only "+w.say()
		}
	}
	return open, not, still
}

// doubtOf is the standard uncertainty of a reading: its last place as the step
// and, where a figure of ours says how well a hand reads it, that scatter.
func doubtOf(m Measured, x unit.Any) float64 {
	g := Gauge[float64]{Step: x.Resolution}
	if m.Scatter.Known() {
		g.Scatter = max(float64(m.Scatter.Value), x.Resolution/2)
	}
	return g.Doubt(0)
}

// Hold holds a case against the rules of a policy. A published rule is taken
// to the letter: what was read counts, and at the limit itself the words of
// the text decide. In a guarded policy a reading has to clear the limit by its
// own doubt, as at any safety limit: see [Judge].
//
// Each reading is of the kind of its measurand. Source: the rules; that ours
// are guarded is our choice.
func (p Policy) Hold(c Case) ([]Finding, error) {
	var out []Finding
	for _, r := range p.Rules {
		m, ok := measured(r.Of)
		if !ok {
			return nil, &OutOfRange{"measurand", string(r.Of), "one of the list"}
		}
		f := Finding{Policy: p.Name, Rule: r}
		x, read := c.read(r.Of)
		if f.Unread = !read; f.Unread {
			f.If, f.Not, _ = r.fits(c)
			out = append(out, f)
			continue
		}
		if x.Kind != m.Kind {
			return nil, &OutOfRange{string(r.Of), "a " + string(x.Kind), "a " + string(m.Kind)}
		}
		if math.IsNaN(x.SI) {
			return nil, &OutOfRange{string(r.Of), fmt.Sprint(x.SI), "a number"}
		}
		f.Value, f.Doubt = x, doubtOf(m, x)
		f.Limit = r.Limit.Value
		if r.Own {
			f.Limit = c.Own[r.Of]
		}
		var still unit.Verdict
		f.If, f.Not, still = r.fits(c)
		if f.Not != "" && still == unit.NoLimit {
			out = append(out, f)
			continue
		}
		if f.Limit.Kind != "" {
			f.Verdict = unit.Outside
			if r.Must.Met(x.SI, f.Limit.SI) {
				f.Verdict = unit.Within
			}
			f.Near = math.Abs(x.SI-f.Limit.SI) < Safety.Guard()*f.Doubt
			if p.Guarded && f.Verdict == unit.Within && f.Near {
				f.Verdict = unit.TooClose
			}
		}
		// A foot that came off early proves nothing against the pedal.
		if r.Of == OfHold && c.Facts["sank"] == "no" && f.Verdict == unit.Outside {
			f.Not, f.Verdict = "held for less, and it did not sink: hold it longer", unit.NoLimit
			out = append(out, f)
			continue
		}
		if f.Not != "" {
			if f.Verdict == still {
				f.Not = ""
			} else {
				f.Verdict = unit.NoLimit
			}
		}
		out = append(out, f)
	}
	return out, nil
}
