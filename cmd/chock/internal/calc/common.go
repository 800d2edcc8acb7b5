package calc

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

type inputs map[string][]unit.Any

// turn makes readings round the part of a list; a missing one leaves a gap.
func (in inputs) turn(name string) brakes.Turn {
	t := brakes.Turn{Positions: len(in[name]), Points: make([]brakes.Point, 0, len(in[name]))}
	for i, a := range in[name] {
		if !a.Missing() {
			t.Points = append(t.Points, brakes.Point{Position: i, Value: unit.As[unit.Length](a).Value})
		}
	}
	return t
}

// length gives the one value of an input; ok is false where it is not known.
func (in inputs) length(name string) (v unit.Length, ok bool) {
	if len(in[name]) == 0 {
		return unit.Length(math.NaN()), false
	}
	return unit.As[unit.Length](in[name][0]).Value, true
}

// figure is length for a limit, which has to be more than 0.
func (in inputs) figure(name string) (v unit.Length, ok bool, err error) {
	v, ok = in.length(name)
	if ok && !(v > 0 && !math.IsInf(float64(v), 0)) {
		return v, ok, &InputError{name, fmt.Errorf("%v is no limit: want more than 0", v)}
	}
	return v, ok, nil
}

// whole gives a count, 0 where it is not known.
func (in inputs) whole(name string) (int, error) {
	if len(in[name]) == 0 {
		return 0, nil
	}
	v := float64(unit.As[unit.Count](in[name][0]).Value)
	if v != math.Trunc(v) {
		return 0, &InputError{name, fmt.Errorf("%g: want a whole number", v)}
	}
	return int(v), nil
}

func (in inputs) studs() (int, error) {
	n, err := in.whole("studs")
	if err == nil && len(in["studs"]) > 0 && (n < 3 || n > 10) {
		err = &InputError{"studs", fmt.Errorf("%d: want 3 to 10", n)}
	}
	return n, err
}

// blame says which input a formula refused, unless that has been said.
func blame(name string, err error) error {
	var out *brakes.OutOfRange
	var said *InputError
	if errors.As(err, &out) && !errors.As(err, &said) {
		return &InputError{name, err}
	}
	return err
}

// step is one count of the gauge, as far as the readings show it: the finest
// last place that was typed, or five or ten of it where every reading is a
// multiple of so many. coarser is that number, else 1.
func step(readings []unit.Any) (q unit.Length, coarser int) {
	if q = finest(readings); q == 0 {
		return 0, 1
	}
	// Three different readings that are all multiples of five by chance: one
	// time in 125.
	var seen [3]int64
	n, five, ten := 0, true, true
	for _, r := range readings {
		if r.Missing() {
			continue
		}
		x := r.SI / float64(q)
		k := int64(math.Round(x))
		if math.Abs(x-float64(k)) > 1e-6 {
			return q, 1
		}
		five, ten = five && k%5 == 0, ten && k%10 == 0
		if k != 0 && n < len(seen) && !slices.Contains(seen[:n], k) {
			seen[n] = k
			n++
		}
	}
	switch {
	case n < len(seen):
		return q, 1
	case ten:
		return q * 10, 10
	case five:
		return q * 5, 5
	}
	return q, 1
}

// finest is the finest last place that was typed; 0 where there is none.
func finest(readings []unit.Any) unit.Length {
	q := math.Inf(1)
	for _, r := range readings {
		if !r.Missing() && r.Resolution > 0 {
			q = min(q, r.Resolution)
		}
	}
	if math.IsInf(q, 0) {
		return 0
	}
	return unit.Length(q)
}

// A gauge is what is taken of the instrument behind some readings.
type gauge struct {
	brakes.Gauge[unit.Length]
	errorGiven bool
	warnings   []string
}

// gaugeOf takes the step from the readings, the scatter from a figure or half
// a step where that is more, and the error limit from the input, else none.
func (in inputs) gaugeOf(s shower, scatter brakes.Figure[unit.Length], names ...string) (gauge, error) {
	var g gauge
	all := in[names[0]]
	for _, n := range names[1:] {
		all = slices.Concat(all, in[n])
	}
	q, coarser := step(all)
	g.Step = q
	g.Scatter = max(scatter.Value, q/2)
	if e, ok := in.length("gauge-error"); ok {
		if !(e >= 0 && !math.IsInf(float64(e), 0)) {
			return g, &InputError{"gauge-error", fmt.Errorf("%v: want 0 or more", e)}
		}
		g.Error, g.errorGiven = e, true
	}
	if coarser > 1 {
		g.warnings = append(g.warnings, fmt.Sprintf("Every reading is a multiple of %s: taken as read to that, no finer.", s.fine(q)))
	}
	for _, n := range names {
		if same(in[n]) {
			g.warnings = append(g.warnings, "Every reading is the same. That is rare: was the part turned, and does the gauge move?")
		}
	}
	return g, nil
}

func same(readings []unit.Any) bool {
	seen := 0
	first := 0.0
	for _, r := range readings {
		if r.Missing() {
			continue
		}
		if seen == 0 {
			first = r.SI
		}
		if r.SI != first {
			return false
		}
		seen++
	}
	return seen >= 4
}

// few warns of readings that are too few or have gaps.
func few(t brakes.Turn) []string {
	var w []string
	if n := len(t.Points); n < 8 {
		text := fmt.Sprintf("%d readings: the custom is 8 or more, the worst place may lie between.", n)
		if n < brakes.FewestForOrders {
			text = fmt.Sprintf("%d readings: the custom is 8 or more. Too few to say how often a turn it comes.", n)
		}
		w = append(w, text)
	}
	if len(t.Points) < t.Positions {
		w = append(w, fmt.Sprintf("%d of %d positions not read: what is there may be worse.", t.Positions-len(t.Points), t.Positions))
	}
	return w
}

// A held is a value about to be held against a limit.
type held struct {
	of      string // id of the limit
	what    string // "runout", "thinnest"
	bound   string // "limit", or the figure's name
	shown   unit.Length
	judged  unit.Length // shown, less what scatter adds
	doubt   unit.Length // standard uncertainty
	limit   brakes.Limit[unit.Length]
	kind    brakes.Kind
	large   bool // shown in the unit of thicknesses
	scatter bool // no more than the gauge's own scatter: never outside
	n       int  // readings behind a largest less least; 0 for another value
	unclear bool // what was read cannot decide, whatever it is
	mark    string
	source  string
}

// hold judges, and says so in both systems.
func (s shower) hold(h held) (Verdict, error) {
	v, err := h.judge()
	if err != nil {
		return Verdict{}, err
	}
	v.Say = s.sayHeld(h, v.Verdict)
	return v, nil
}

// judge is hold without the words.
func (h held) judge() (Verdict, error) {
	v, err := brakes.Judge(h.judged, h.doubt, h.limit, h.kind)
	if err != nil {
		return Verdict{}, err
	}
	if v != unit.NoLimit && h.unclear || v == unit.Outside && h.scatter {
		v = unit.TooClose
	}
	out := Verdict{Of: h.of, Verdict: v, Unit: "mm", Mark: h.mark, Source: h.source, Asked: h.mark == Given,
		Value: h.shown.Millimetres(), Limit: math.NaN(), Good: math.NaN(),
		Doubt: h.kind.Guard() * h.doubt.Millimetres()}
	if v == unit.NoLimit {
		return out, nil
	}
	out.Limit = h.limit.High.Millimetres()
	if h.limit.Low != h.limit.High {
		out.Good = h.limit.Low.Millimetres()
	}
	out.Inside = h.inside(v)
	return out, nil
}

// inside is the chance that the value is within. Where the limit is a range
// of published ones, the limit itself is not known better than that, alike
// anywhere between. What cannot decide is even.
func (h held) inside(v unit.Verdict) float64 {
	if v == unit.TooClose && (h.unclear || h.scatter) {
		return 0.5
	}
	u, limit := float64(h.doubt), h.limit
	if limit.Low != limit.High {
		wide := float64(limit.High - limit.Low)
		limit.Low = (limit.Low + limit.High) / 2
		limit.High = limit.Low
		u = math.Hypot(u, wide/math.Sqrt(12))
	}
	c, err := brakes.Conforms(h.judged, unit.Length(u), limit)
	if err != nil {
		return 0
	}
	return min(max(float64(c), 0.001), 0.999)
}

// sayHeld puts a verdict into words, in both systems.
func (s shower) sayHeld(h held, v unit.Verdict) string {
	if v == unit.NoLimit {
		shown := s.fine(h.shown)
		if h.large {
			shown = s.size(h.shown)
		}
		return fmt.Sprintf("%s %s, %s: %s", h.what, shown, h.bound, v.Say())
	}
	value, bound := s.against(h.shown, h.limit, h.large)
	word := h.bound
	if h.limit.Low != h.limit.High {
		word += "s"
	}
	return fmt.Sprintf("%s %s, %s %s, %s: %s", h.what, value, word, bound, h.mark, v.Say())
}

// comfort makes the limit of something that can be felt: the given figure, or
// the range of typical ones.
func (in inputs) comfort(name string, good, bad brakes.Figure[unit.Length]) (l brakes.Limit[unit.Length], mark, source string, err error) {
	v, ok, err := in.figure(name)
	if err != nil {
		return l, "", "", err
	}
	if ok {
		return brakes.AtMost(v), Given, "given with the readings as " + name, nil
	}
	return brakes.AtMostRange(good.Value, bad.Value), string(good.Mark), good.Source + "; " + good.Scope, nil
}

// outcome is the id that belongs to a verdict: worst first, as in the table.
func outcome(v unit.Verdict, outside, tooClose, within, noLimit string) string {
	switch v {
	case unit.Outside:
		return outside
	case unit.TooClose:
		return tooClose
	case unit.Within:
		return within
	}
	return noLimit
}

// orders are those of a turn, and the noise of one of its readings.
type orders struct {
	list  []brakes.Order
	noise unit.Length
}

// orderValues are the orders for JSON.
func orderValues(key string, list []brakes.Order, noise unit.Length) Value {
	if len(list) == 0 {
		return Value{Key: key, Number: math.NaN()}
	}
	return Value{Key: key, orders: &orders{list, noise}}
}

// orderKeys are those of one order; half_blind follows.
var orderKeys = [...]string{"order", "amplitude_mm", "high_deg", "noise_mm"}

func (o *orders) numbers(i int) [len(orderKeys)]float64 {
	x := &o.list[i]
	high := x.High.Degrees()
	if x.Amplitude == 0 {
		high = math.NaN()
	}
	return [...]float64{float64(x.Times), x.Amplitude.Millimetres(), high, x.FromNoise(o.noise).Millimetres()}
}

// Rows is a value that is a list; nil where it is none.
func (x Value) Rows() []Values {
	if x.orders == nil {
		return x.List
	}
	var rows []Values
	for i := range x.orders.list {
		var row Values
		for k, n := range x.orders.numbers(i) {
			row = append(row, Value{Key: orderKeys[k], Number: n})
		}
		rows = append(rows, append(row, Value{Key: "half_blind", Flag: flag(x.orders.list[i].HalfBlind)}))
	}
	return rows
}

var yes, no = true, false

// flag is what a Value that is yes or no points at.
func flag(b bool) *bool {
	if b {
		return &yes
	}
	return &no
}

// leading is the order that carries the most, and what it carries.
func leading(orders []brakes.Order) (o brakes.Order, ok bool) {
	for _, x := range orders {
		if x.Share > o.Share {
			o, ok = x, true
		}
	}
	return o, ok
}

func often(times int) string {
	switch times {
	case 1:
		return "once a turn"
	case 2:
		return "twice a turn"
	}
	return fmt.Sprintf("%d times a turn", times)
}

// pattern says in plain words how often a turn it comes, and which part of
// the rotor that points to. meaning gives the words for an order.
func pattern(orders []brakes.Order, noise unit.Length, meaning func(times int) string) []string {
	o, ok := leading(orders)
	if !ok {
		return nil
	}
	if o.Amplitude <= o.FromNoise(noise) {
		return []string{"No pattern stands out of the gauge's own scatter."}
	}
	amount := ""
	switch {
	case o.Share >= 0.85:
		amount = "Nearly all of it comes "
	case o.Share >= 0.6:
		amount = "Most of it comes "
	default:
		return []string{"It comes in no one pattern; the largest part comes " + often(o.Times) + "."}
	}
	say := []string{amount + often(o.Times) + meaning(o.Times)}
	if o.HalfBlind {
		say = append(say, fmt.Sprintf("%s is half as often as there are positions: it may be more, and where it is high is not known. Read twice as many.", capital(often(o.Times))))
	}
	return say
}

// folded warns that many spots look like few waves.
func folded(t brakes.Turn) string {
	return "Count dark or blue spots by eye too: " + strconv.Itoa(t.Positions) + " readings cannot tell " + strconv.Itoa(t.Positions-1) +
		" times a turn from once. With six spots or more, trust no pattern."
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

const (
	sourceDoubt   = "doubt of a reading: JCGM 100:2008 (GUM), F.2.2.1; NIST TN 1297, section 4, 1994"
	sourceVerdict = "three-way verdict: JCGM 106:2012; ILAC-G8:09/2019, section 4.2.3; no benefit of the doubt at a safety limit: our rule"
	sourceScatter = "scatter of largest less least: Harter, Ann. Math. Stat. 31(4), 1960; ASTM MNL 7, factors d2"
	sourceOrders  = "orders: ISO 12181-2, undulations per revolution; least squares checked against NIST StRD ENSO"
)

// sourceFigure names a figure, its value in the person's own system first.
func sourceFigure[Q ~float64](us bool, what string, f brakes.Figure[Q]) string {
	return sourceOf(what+" "+figureText(us, f.Value), string(f.Mark), f.Source)
}

// figureText shows a figure, without noughts that say nothing, and in the other
// system with one digit more than it has in SI.
func figureText[Q ~float64](us bool, v Q) string {
	return anyText(us, unit.Of(unit.Reading[Q]{Value: v}))
}

// anyText is figureText of an amount of any kind.
func anyText(us bool, v unit.Any) string {
	text := v.Both()
	first, second, two := strings.Cut(strings.TrimSuffix(text, ")"), " (")
	first = noNoughts(first)
	if !two {
		return first
	}
	number, name, _ := strings.Cut(first, " ")
	digits := len(strings.TrimLeft(strings.ReplaceAll(number, ".", ""), "0"))
	number, other, _ := strings.Cut(second, " ")
	if x, err := strconv.ParseFloat(number, 64); err == nil && x != 0 && name != "C" {
		places := digits - int(math.Floor(math.Log10(math.Abs(x))))
		number = strconv.FormatFloat(x, 'f', max(min(places, decimals(number)), 0), 64)
	}
	second = noNoughts(number + " " + other)
	if us {
		first, second = second, first
	}
	return first + " (" + second + ")"
}

// decimals is how many digits stand after the point.
func decimals(number string) int {
	_, fraction, _ := strings.Cut(number, ".")
	return len(fraction)
}

// noNoughts takes off noughts at the end of a fraction.
func noNoughts(amount string) string {
	number, unit, spaced := strings.Cut(amount, " ")
	if strings.Contains(number, ".") {
		number = strings.TrimSuffix(strings.TrimRight(number, "0"), ".")
	}
	if !spaced {
		return number
	}
	return number + " " + unit
}
