package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"chock/brakes/unit"
	"chock/cmd/chock/internal/record"
)

// A Plot is a drawing of readings, in one of three shapes. It holds numbers and
// words only; svg.go draws it.
type Plot struct {
	Title string   // what it shows, for those who see it
	Say   string   // the same in words, for those who hear it
	Notes []string // the scale, under the drawing
	Clock *Clock
	Rows  *Rows
	Graph *Graph
	Key   []Key // what its lines mean
}

// A Key says what one stroke of a plot means.
type Key struct {
	Stroke Stroke
	Say    string
}

// A Stroke is how a line is drawn: told apart without colour.
type Stroke string

const (
	Solid  Stroke = ""
	Dashed Stroke = "9 5"
	Dotted Stroke = "2 4"
	Chain  Stroke = "12 4 2 4"
)

// A Clock is readings at equal steps round a rotor, seen from the face of the
// hub: the first at stud 1, at the top, and on the way the studs are numbered.
type Clock struct {
	Spots         []Spot
	Mean, Step    float64 // of the middle ring; from it to the outer ring and to the inner one
	First, Second Wave    // once and twice a turn
	Studs         int     // 0 where it is not known; stud 1 is
}

// A Spot is a reading at one position; NaN where none was taken.
type Spot struct {
	Value float64
	Label string
}

// A Wave swings Amplitude either way, high first at High degrees.
type Wave struct{ Amplitude, High float64 }

func (w Wave) at(deg, times float64) float64 {
	return w.Amplitude * math.Cos(times*(deg-w.High)*math.Pi/180)
}

// Rows are values on one scale, a row under another: dots, or bars from From.
type Rows struct {
	From, To float64
	Bars     bool
	Rows     []Row
	Limits   []Mark
}

// A Row is one line of Rows; a full one stands out.
type Row struct {
	Label  string
	Values []float64
	Full   bool
}

// A Mark is a line at one value of a scale.
type Mark struct {
	At     float64
	Stroke Stroke
}

// A Graph is lines over two scales.
type Graph struct {
	X, Y   Axis
	Curves []Curve
	Band   []Point // the corners of a shaded part
	Across []Mark  // lines at a value of X
	Level  []Mark  // at a value of Y
}

// An Axis is a scale with the words beside it.
type Axis struct {
	Title    string
	From, To float64
	Ticks    []Division
}

// A Division is one value of a scale, in both systems where there are two.
type Division struct {
	At          float64
	Label, Also string
}

// A Curve goes through points; dots stand on it where Dots says so.
type Curve struct {
	Points []Point
	Stroke Stroke
	Dots   bool
}

type Point struct{ X, Y float64 }

// The most that a drawing can show; a record edited by hand may hold anything.
const (
	mostSpots = 36
	mostRows  = 24
	mostSize  = 1e9
)

// plots draws what can be drawn of a measurement.
func plots(rec *record.Record, m record.Measurement) []*Plot {
	d := drawer{rec: rec, m: m, us: rec.Units != "metric"}
	var out []*Plot
	add := func(p *Plot) {
		if p != nil {
			out = append(out, p)
		}
	}
	switch m.Calculation {
	case "rotor-runout":
		add(d.clock("dial", "Dial readings", "runout_orders", d.fine))
	case "rotor-thickness":
		add(d.clock("thickness", "Thickness", "thickness_orders", d.large))
		add(d.thickness())
	case "rotor-index":
		add(d.index())
	case "drum-diameter":
		add(d.drum())
	case "lining-wear":
		add(d.lining())
	case "lining-trip":
		add(d.trip("front"))
		add(d.trip("rear"))
	case "pedal-travel":
		add(d.pedal())
	case "axle-balance":
		add(d.balance())
	case "pedal-volume":
		add(d.volume())
	}
	return out
}

// A drawer makes the plots of one measurement. Lengths are in mm.
type drawer struct {
	rec *record.Record
	m   record.Measurement
	us  bool
}

// name begins the title of each plot.
func (d drawer) title(what string) string { return at(d.m.Say, []string{d.m.Wheel}) + ": " + what }

// result finds a number; ok is false where it is unknown or cannot be drawn.
func result(rs []record.Result, key string) (v float64, ok bool) {
	for _, r := range rs {
		if r.Key == key && r.Value != nil && drawable(*r.Value) {
			return *r.Value, true
		}
	}
	return math.NaN(), false
}

func drawable(v float64) bool { return math.Abs(v) < mostSize } // false for NaN

// listed finds a list of results.
func listed(rs []record.Result, key string) [][]record.Result {
	for _, r := range rs {
		if r.Key == key {
			return r.List
		}
	}
	return nil
}

// read gives the readings of an input, in mm; NaN for a missing one.
func (d drawer) read(input string) (values []float64, labels []string) {
	for _, r := range d.m.Readings {
		if r.Input != input {
			continue
		}
		v := math.NaN()
		if a, err := unit.Parse(unit.KindLength, r.Typed, r.Unit); err == nil && r.Value != nil && drawable(a.SI*1000) {
			v = a.SI * 1000
		}
		values = append(values, v)
		labels = append(labels, shortTyped(r))
	}
	return values, labels
}

// shortTyped is a reading as typed, without its unit, that fits beside a mark.
func shortTyped(r record.Reading) string {
	word, _, _ := strings.Cut(strings.TrimSpace(r.Typed), " ")
	if len(word) > 7 && r.Value != nil {
		word = strconv.FormatFloat(*r.Value, 'g', 4, 64)
	}
	if len(word) > 7 {
		return "..."
	}
	return word
}

// count finds a reading that is a whole number.
func (d drawer) count(m record.Measurement, input string) int {
	for _, r := range m.Readings {
		if r.Input == input && r.Value != nil && *r.Value >= 0 && *r.Value <= mostRows {
			return int(*r.Value)
		}
	}
	return 0
}

// verdict finds what a value was held against.
func (d drawer) limit(of string) (v float64, ok bool) {
	for _, v := range d.m.Verdicts {
		if v.Of == of && v.Limit != nil && v.Unit == "mm" && drawable(*v.Limit) {
			return *v.Limit, true
		}
	}
	return math.NaN(), false
}

// fine, large and ruled show a length in both systems, the record's own first:
// of a dial, of a micrometer, of a rule.
func (d drawer) fine(mm float64) string  { return d.pair(mm, "thou", 1, 3) }
func (d drawer) large(mm float64) string { return d.pair(mm, "in", 4, 3) }
func (d drawer) ruled(mm float64) string { return d.pair(mm, "in", 2, 1) }

func (d drawer) pair(mm float64, us string, usDigits, mmDigits int) string {
	a := unit.FormatTo(unit.KindLength, mm/1000, us, usDigits)
	b := unit.FormatTo(unit.KindLength, mm/1000, "mm", mmDigits)
	if d.us {
		return a + " (" + b + ")"
	}
	return b + " (" + a + ")"
}

// nice is the least of 1, 2 and 5 times a power of ten that is not below v.
func nice(v float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(v)))
	for _, n := range []float64{1, 2, 5, 10} {
		if n*ten >= v*(1-1e-9) {
			return n * ten
		}
	}
	return 10 * ten
}

// clock draws one turn of readings.
func (d drawer) clock(input, what, orders string, show func(float64) string) *Plot {
	values, labels := d.read(input)
	n := len(values)
	known := slices.DeleteFunc(slices.Clone(values), math.IsNaN)
	if len(known) < 3 || n > mostSpots {
		return nil
	}
	c := &Clock{}
	high, low := 0, 0
	for i, v := range values {
		c.Spots = append(c.Spots, Spot{v, labels[i]})
		if v > values[high] || math.IsNaN(values[high]) {
			high = i
		}
		if v < values[low] || math.IsNaN(values[low]) {
			low = i
		}
	}
	var waves [3]Wave
	for _, o := range listed(d.m.Results, orders) {
		times, _ := result(o, "order")
		amplitude, known := result(o, "amplitude_mm")
		deg, placed := result(o, "high_deg")
		if (times == 1 || times == 2) && known && placed {
			waves[int(times)] = Wave{amplitude, math.Mod(deg, 360)}
		}
	}
	c.First, c.Second = waves[1], waves[2]
	// The middle of what the waves leave, so that a gap in the readings does
	// not shift it.
	for i, v := range values {
		if !math.IsNaN(v) {
			deg := 360 * float64(i) / float64(n)
			c.Mean += (v - c.First.at(deg, 1) - c.Second.at(deg, 2)) / float64(len(known))
		}
	}
	most := max(values[high]-c.Mean, c.Mean-values[low], c.First.Amplitude, c.Second.Amplitude)
	own := 1.0 // mm
	if d.us {
		own = 0.0254
	}
	c.Step = own * nice(max(most, 1e-6)/own)
	// The hub's studs are counted where the rotor was moved on them.
	for _, m := range d.rec.Measurements {
		if m.Calculation == "rotor-index" && m.Wheel == d.m.Wheel {
			c.Studs = d.count(m, "studs")
		}
	}
	p := &Plot{Title: d.title(lowerFirst(what) + " round the clock"), Clock: c}
	deg := func(i int) string { return fmt.Sprintf("%.0f degrees", 360*float64(i)/float64(n)) }
	p.Say = fmt.Sprintf("%s at %d marks from stud 1 round, the way the studs are numbered. Highest %s at %s, lowest %s at %s.",
		what, n, show(values[high]), deg(high), show(values[low]), deg(low))
	if len(known) < n {
		p.Say += fmt.Sprintf(" %d of them not read.", n-len(known))
	}
	p.Key = []Key{{Solid, "as read, a dot at each mark"}}
	for i, w := range []Wave{c.First, c.Second} {
		if w.Amplitude <= 0 {
			continue
		}
		often := []string{"once a turn", "twice a turn"}[i]
		p.Key = append(p.Key, Key{[]Stroke{Dashed, Dotted}[i], "what comes " + often})
		p.Say += fmt.Sprintf(" What comes %s swings %s either way, high at %.0f degrees.", often, d.fine(w.Amplitude), math.Mod(w.High+360, 360))
	}
	studs := "Clockwise from stud 1, which is circle 1"
	if c.Studs > 1 {
		studs = fmt.Sprintf("Clockwise round the %d studs, the circles", c.Studs)
	}
	if c.First.Amplitude > 0 {
		studs += "; the wedge points at the high spot of what comes once a turn"
	}
	p.Notes = []string{
		studs + ".",
		fmt.Sprintf("Drawn far too large: from ring to ring %s, the middle one %s.", d.fine(c.Step), show(c.Mean)),
	}
	return p
}

// scale gives rows a range with some room at both ends.
func (r *Rows) scale() bool {
	least, most := math.Inf(1), math.Inf(-1)
	for _, row := range r.Rows {
		for _, v := range row.Values {
			least, most = min(least, v), max(most, v)
		}
	}
	for _, l := range r.Limits {
		least, most = min(least, l.At), max(most, l.At)
	}
	if !drawable(least) || !drawable(most) || len(r.Rows) == 0 || len(r.Rows) > mostRows {
		return false
	}
	room := (most - least) * 0.05
	if r.Bars {
		least, room = 0, most*0.05
	}
	if room <= 0 {
		room = max(math.Abs(most)*0.001, 1e-6)
	}
	r.To = most + room
	if !r.Bars {
		r.From = least - room
	}
	return true
}

// thickness draws a rotor against what it may wear and be cut to.
func (d drawer) thickness() *Plot {
	r := &Rows{}
	p := &Plot{Title: d.title("thickness against its limits"), Rows: r}
	values, _ := d.read("thickness")
	values = slices.DeleteFunc(values, math.IsNaN)
	least, ok := result(d.m.Results, "least_thickness_mm")
	switch {
	case len(values) > 0 && len(values) <= mostSpots:
		most := slices.Max(values)
		r.Rows = []Row{{Label: "read, from " + d.large(slices.Min(values)), Values: values}}
		if most > slices.Min(values) {
			r.Rows[0].Label += " to " + d.large(most)
		}
	case ok:
		r.Rows = []Row{{Label: "thinnest " + d.large(least), Values: []float64{least}}}
	default:
		return nil
	}
	var said []string
	for _, l := range []struct {
		of, say string
		stroke  Stroke
	}{{"discard", "discard", Solid}, {"refinish", "machine-to", Dashed}} {
		if v, ok := d.limit(l.of); ok {
			r.Limits = append(r.Limits, Mark{v, l.stroke})
			p.Key = append(p.Key, Key{l.stroke, l.say + " " + d.large(v)})
			said = append(said, l.say+" "+d.large(v))
		}
	}
	if len(said) == 0 || !r.scale() {
		return nil
	}
	p.Say = upperFirst(r.Rows[0].Label) + "; " + strings.Join(said, ", ") + "."
	return p
}

// index draws the runout foretold at each stud position.
func (d drawer) index() *Plot {
	r := &Rows{Bars: true}
	p := &Plot{Title: d.title("runout foretold at each stud position"), Rows: r}
	best, _ := result(d.m.Results, "best_studs")
	now := d.count(d.m, "moved")
	var said []string
	for _, g := range listed(d.m.Results, "positions") {
		studs, ok := result(g, "studs")
		v, known := result(g, "runout_mm")
		if !ok || !known || v < 0 {
			continue
		}
		label := fmt.Sprintf("moved %.0f studs: ", studs)
		switch studs {
		case 0:
			label = "as first read: "
		case 1:
			label = "moved 1 stud: "
		}
		label += d.fine(v)
		if studs == best {
			label += ", best"
		}
		if int(studs) == now {
			label += ", read there last"
		}
		r.Rows = append(r.Rows, Row{Label: label, Values: []float64{v}, Full: studs == best})
		said = append(said, label)
	}
	if v, ok := d.limit("index"); ok {
		r.Limits = []Mark{{v, Dashed}}
		p.Key = []Key{{Dashed, "limit " + d.fine(v)}}
		said = append(said, "the limit is "+d.fine(v))
	}
	if !r.scale() {
		return nil
	}
	p.Say = upperFirst(strings.Join(said, "; ")) + "."
	p.Notes = []string{"The full bar is the best place. It stops the pulse coming back and does not flatten a face."}
	return p
}

// drum draws the diameters at each edge against the figure cast on it.
func (d drawer) drum() *Plot {
	r := &Rows{}
	p := &Plot{Title: d.title("diameters against the largest allowed"), Rows: r}
	var said []string
	for _, input := range []string{"open", "closed", "middle"} {
		values, _ := d.read(input)
		values = slices.DeleteFunc(values, math.IsNaN)
		if len(values) == 0 || len(values) > mostSpots {
			continue
		}
		label := input + " edge, up to " + d.large(slices.Max(values))
		if input == "middle" {
			label = "middle, up to " + d.large(slices.Max(values))
		}
		r.Rows = append(r.Rows, Row{Label: label, Values: values})
		said = append(said, label+", least "+d.large(slices.Min(values)))
	}
	if v, ok := d.limit("discard"); ok {
		r.Limits = []Mark{{v, Solid}}
		p.Key = []Key{{Solid, "at most " + d.large(v)}}
		said = append(said, "largest allowed "+d.large(v))
	}
	if !r.scale() {
		return nil
	}
	p.Say = upperFirst(strings.Join(said, "; ")) + "."
	p.Notes = []string{"Each dot is one diameter. Beyond the line the drum is scrap."}
	if len(r.Limits) == 0 {
		p.Notes = []string{"Each dot is one diameter. The largest allowed, cast on the drum, is not known."}
	}
	return p
}

// lining draws pads against the least that they may have.
func (d drawer) lining() *Plot {
	r := &Rows{Bars: true}
	p := &Plot{Title: d.title("linings against the least"), Rows: r}
	var said []string
	for _, input := range []string{"inner", "outer"} {
		values, _ := d.read(input)
		values = slices.DeleteFunc(values, math.IsNaN)
		if len(values) == 0 || slices.Min(values) < 0 {
			continue
		}
		label := input + " pad " + d.ruled(slices.Min(values))
		r.Rows = append(r.Rows, Row{Label: label, Values: []float64{slices.Min(values)}})
		said = append(said, label)
	}
	v, ok := d.limit("lining")
	if !ok || len(r.Rows) == 0 {
		return nil
	}
	r.Limits = []Mark{{v, Solid}}
	p.Key = []Key{{Solid, "least " + d.ruled(v)}}
	if !r.scale() {
		return nil
	}
	p.Say = upperFirst(strings.Join(append(said, "least "+d.ruled(v)), "; ")) + "."
	return p
}

const kmPerMile = 1.609344

// way shows miles in both systems.
func (d drawer) way(miles float64) string {
	mi, km := thousands(miles)+" mi", thousands(miles*kmPerMile)+" km"
	if d.us {
		return mi + " (" + km + ")"
	}
	return km + " (" + mi + ")"
}

// thousands is a whole number with commas.
func thousands(v float64) string {
	s := strconv.FormatFloat(math.Round(v), 'f', 0, 64)
	neg := strings.HasPrefix(s, "-")
	s = strings.TrimPrefix(s, "-")
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	if neg {
		return "-" + s
	}
	return s
}

// trip draws what the linings of an axle have left, mile by mile: at the wear
// so far, and as a band between the fastest and the slowest.
func (d drawer) trip(axle string) *Plot {
	now, ok1 := result(d.m.Results, axle+"_thinnest_mm")
	least, ok2 := result(d.m.Results, "least_mm")
	left, ok3 := result(d.m.Results, axle+"_miles_left")
	low, ok4 := result(d.m.Results, axle+"_miles_left_low")
	high, ok5 := result(d.m.Results, axle+"_miles_left_high")
	trip := math.NaN()
	for _, v := range d.m.Verdicts {
		if v.Of == axle && v.Value != nil && v.Unit == "mi" && drawable(*v.Value) {
			trip = *v.Value
		}
	}
	if !ok1 || !ok2 || !ok3 || !ok4 || !ok5 || !(trip > 0) || now <= least || !(left > 0) || low < 0 || high < left || low > left {
		return nil
	}
	per := 1.0 // of a mile to the number at the scale
	if !d.us {
		per = kmPerMile
	}
	// As far as both the trip and what is left reach, but not so far that the
	// shorter of them is lost.
	far := max(trip, min(left, 6*trip), min(high, 3*trip))
	g := &Graph{
		X: d.miles(2*nice(far*1.02*per/2)/per, per),
		Y: d.thick(now * 1.05),
	}
	// Straight lines from today to where nothing is left, cut at the edge.
	end := func(way float64) Point {
		if way <= g.X.To {
			return Point{way, least}
		}
		return Point{g.X.To, now - (now-least)*g.X.To/way}
	}
	g.Curves = []Curve{{Points: []Point{{0, now}, end(left)}, Stroke: Dashed, Dots: true}}
	g.Band = []Point{{0, now}, end(low)}
	if low < g.X.To && high > g.X.To {
		g.Band = append(g.Band, Point{g.X.To, least})
	}
	g.Band = append(g.Band, end(high))
	g.Across = []Mark{{trip, Solid}}
	g.Level = []Mark{{least, Chain}}
	p := &Plot{Title: d.title(axle + " linings against the trip"), Graph: g}
	p.Key = []Key{{Dashed, "at the wear so far"}, {Solid, "the trip " + d.way(trip)}, {Chain, "least " + d.ruled(least)}}
	p.Notes = []string{fmt.Sprintf("The shaded part lies between the fastest and the slowest wear (our estimate): nothing left after %s at the earliest, %s at the latest.", d.way(low), d.way(high))}
	p.Say = fmt.Sprintf("The thinnest has %s today and may have no less than %s. At the wear so far that is reached after %s. The trip is %s.", d.ruled(now), d.ruled(least), d.way(left), d.way(trip))
	return p
}

// miles is a scale of three values; per is what its own unit has for a mile.
func (d drawer) miles(to, per float64) Axis {
	a := Axis{Title: "from today", To: to}
	for i := range 3 {
		v := to * float64(i) / 2
		t := Division{v, thousands(v) + " mi", thousands(v*kmPerMile) + " km"}
		if !d.us {
			t.Label, t.Also = t.Also, t.Label
		}
		a.Ticks = append(a.Ticks, t)
	}
	return a
}

// thick is a scale from nothing to a thickness.
func (d drawer) thick(to float64) Axis {
	own := 1.0
	if d.us {
		own = 25.4
	}
	step := own * nice(to/own/4)
	a := Axis{Title: "lining"}
	for v := 0.0; ; v += step {
		in, mm := unit.FormatTo(unit.KindLength, v/1000, "in", 2), unit.FormatTo(unit.KindLength, v/1000, "mm", 1)
		t := Division{v, mm, in}
		if d.us {
			t.Label, t.Also = in, mm
		}
		a.Ticks = append(a.Ticks, t)
		a.To = v
		if v >= to {
			return a
		}
	}
}

// pedal draws how much of its way the pedal used.
func (d drawer) pedal() *Plot {
	r := &Rows{Bars: true, Rows: nil}
	p := &Plot{Title: d.title("how much of its way to the floor the pedal used"), Rows: r}
	var said []string
	for _, x := range []struct{ share, way, say string }{
		{"travel_percent", "travel_mm", "first press"}, {"pumped_percent", "pumped_travel_mm", "pumped"},
	} {
		share, ok := result(d.m.Results, x.share)
		if !ok || share < 0 {
			continue
		}
		label := fmt.Sprintf("%s: %.0f %%", x.say, share)
		if way, ok := result(d.m.Results, x.way); ok {
			label += ", " + d.ruled(way)
		}
		r.Rows = append(r.Rows, Row{Label: label, Values: []float64{share}})
		said = append(said, label)
	}
	if len(r.Rows) == 0 {
		return nil
	}
	for _, v := range d.m.Verdicts {
		if v.Of != "reserve" || v.Unit != "%" || v.Limit == nil || !drawable(*v.Limit) {
			continue
		}
		if v.Good != nil && drawable(*v.Good) && *v.Good != *v.Limit {
			r.Limits = append(r.Limits, Mark{*v.Good, Dashed})
			p.Key = append(p.Key, Key{Dashed, fmt.Sprintf("good up to %.0f %%", *v.Good)})
		}
		r.Limits = append(r.Limits, Mark{*v.Limit, Solid})
		p.Key = append(p.Key, Key{Solid, fmt.Sprintf("most %.0f %%", *v.Limit)})
		said = append(said, fmt.Sprintf("most %.0f %%", *v.Limit))
	}
	if !r.scale() {
		return nil
	}
	r.To = max(r.To, 100)
	p.Say = upperFirst(strings.Join(said, "; ")) + "."
	p.Notes = []string{"The right end is the floor."}
	return p
}

// balance draws the grip that each axle uses.
func (d drawer) balance() *Plot {
	g := &Graph{X: Axis{Title: "slowing"}, Y: Axis{Title: "grip used: brake force over load"}}
	front, rear := Curve{Stroke: Solid, Dots: true}, Curve{Stroke: Dashed, Dots: true}
	most := 1.0
	for _, c := range listed(d.m.Results, "curve") {
		z, ok1 := result(c, "decel_g")
		f, ok2 := result(c, "front_adhesion")
		r, ok3 := result(c, "rear_adhesion")
		if !ok1 || !ok2 || !ok3 || z <= 0 || z > 1 || len(front.Points) > mostRows || max(f, r) > 2 || min(f, r) < 0 {
			continue
		}
		front.Points, rear.Points = append(front.Points, Point{z, f}), append(rear.Points, Point{z, r})
		most = max(most, f, r)
	}
	if len(front.Points) < 2 {
		return nil
	}
	g.Curves = []Curve{front, rear}
	g.X.To = 1
	for _, v := range []float64{0, 0.5, 1} {
		g.X.Ticks = append(g.X.Ticks, Division{v, fmt.Sprintf("%.1f g", v), fmt.Sprintf("%.1f m/s2", v*9.80665)})
	}
	for v := 0.0; v < most+0.199; v += 0.2 {
		g.Y.To = v
		g.Y.Ticks = append(g.Y.Ticks, Division{At: v, Label: fmt.Sprintf("%.1f", v)})
	}
	p := &Plot{Title: d.title("grip used in front and behind"), Graph: g}
	p.Key = []Key{{Solid, "front wheels"}, {Dashed, "rear wheels"}}
	half := slices.MinFunc(front.Points, func(a, b Point) int { return cmpFloat(math.Abs(a.X-0.5), math.Abs(b.X-0.5)) })
	i := slices.Index(front.Points, half)
	p.Say = fmt.Sprintf("The grip that each axle uses while slowing. At %.1f g (%.1f m/s2) the front wheels use %.2f, the rear ones %.2f.", half.X, half.X*9.80665, half.Y, rear.Points[i].Y)
	if mu, ok := result(d.m.Results, "surface"); ok && mu > 0 && mu < g.Y.To {
		g.Level = []Mark{{mu, Chain}}
		p.Key = append(p.Key, Key{Chain, fmt.Sprintf("the road has %.2f", mu)})
		p.Say += fmt.Sprintf(" The road is taken to have %.2f.", mu)
	}
	if z, ok := result(d.m.Results, "critical_g"); ok && z > 0 && z < 1 {
		g.Across = []Mark{{z, Dotted}}
		p.Key = append(p.Key, Key{Dotted, fmt.Sprintf("from %.2f g the rear ones lock first", z)})
		p.Say += fmt.Sprintf(" From %.2f g (%.1f m/s2) on the rear wheels use more and would lock first.", z, z*9.80665)
	}
	p.Notes = []string{"The axle whose line reaches the road's grip first has its wheels locked."}
	return p
}

func cmpFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// volume draws the fluid that the pedal moved, and what of it is accounted for.
func (d drawer) volume() *Plot {
	r := &Rows{Bars: true}
	p := &Plot{Title: d.title("the fluid that the pedal moved"), Rows: r}
	var said []string
	for _, x := range []struct{ key, say string }{
		{"volume_cc", "first press moved"}, {"gone_cc", "pumping took away"}, {"stays_cc", "stayed when pumped"},
		{"budget_retraction_cc", "pads up to the rotors"}, {"budget_clearance_cc", "shoes out to the drums"},
		{"budget_front_yield_cc", "front parts yield"}, {"budget_rear_yield_cc", "rear parts yield"}, {"budget_hose_cc", "hoses swell"},
		{"budget_pipe_cc", "pipes swell"}, {"budget_fluid_cc", "fluid is squeezed"}, {"budget_air_cc", "air is squeezed"}, {"budget_cc", "budget in all"},
	} {
		v, ok := result(d.m.Results, x.key)
		if !ok || v < 0 {
			continue
		}
		cc, in3 := unit.FormatTo(unit.KindVolume, v*1e-6, "cc", 1), unit.FormatTo(unit.KindVolume, v*1e-6, "in3", 2)
		if d.us {
			cc, in3 = in3, cc
		}
		label := fmt.Sprintf("%s %s (%s)", x.say, cc, in3)
		r.Rows = append(r.Rows, Row{Label: label, Values: []float64{v}, Full: x.key == "volume_cc"})
		said = append(said, label)
	}
	if len(r.Rows) < 2 || !r.scale() {
		return nil
	}
	p.Say = upperFirst(strings.Join(said, "; ")) + "."
	p.Notes = []string{"What pumping took away was a gap. What stayed is air, or what yields."}
	return p
}

// plot draws the wear of a part from reading to reading, against its limit;
// nil where there is no trend to see. The ticks count years, from the first.
func (w *Wear) plot() *Plot {
	if len(w.Points) < 2 || w.Year == nil || w.Unit != "mm" {
		return nil
	}
	first, last := w.Points[0], w.Points[len(w.Points)-1]
	years := func(p WearPoint) float64 { return (days(p.At) - days(first.At)) / daysPerYear }
	span := years(last)
	if !(span > 0) || span > 200 {
		return nil
	}
	c := Curve{Stroke: Solid, Dots: true}
	least, most := math.Inf(1), math.Inf(-1)
	for _, p := range w.Points {
		if !drawable(p.Value) {
			return nil
		}
		c.Points = append(c.Points, Point{years(p), p.Value})
		least, most = min(least, p.Value), max(most, p.Value)
	}
	g := &Graph{X: Axis{Title: "years, from " + first.At.Local().Format("January 2006"), To: 2 * nice(span/2)}, Curves: []Curve{c}}
	if s := 1 / daysPerYear; g.X.To < s {
		g.X.To = s
	}
	for i := range 3 {
		v := g.X.To * float64(i) / 2
		g.X.Ticks = append(g.X.Ticks, Division{At: v, Label: strconv.FormatFloat(v, 'g', 3, 64)})
	}
	p := &Plot{Title: w.name() + ": wear from check to check", Graph: g, Key: []Key{{Solid, "as read"}}}
	show := func(mm float64) string { return inBoth(w.Unit, mm, orZero(last.Doubt)) }
	p.Say = fmt.Sprintf("From %s, %s, to %s, %s.", show(first.Value), day(first.At), show(last.Value), day(last.At))
	if w.Limit != nil && drawable(*w.Limit) {
		least, most = min(least, *w.Limit), max(most, *w.Limit)
		g.Level = []Mark{{*w.Limit, Chain}}
		p.Key = append(p.Key, Key{Chain, "limit " + show(*w.Limit)})
		p.Say += " Limit " + show(*w.Limit) + "."
	}
	step := nice(max((most-least)/4, 1e-4))
	g.Y = Axis{Title: "mm, and inches at the right", From: step * math.Floor(least/step)}
	for v := g.Y.From; ; v += step {
		digits := min(max(int(math.Ceil(-math.Log10(step)-1e-9)), 0), 4)
		g.Y.Ticks = append(g.Y.Ticks, Division{v, strconv.FormatFloat(v, 'f', digits, 64), strconv.FormatFloat(v/25.4, 'f', digits+2, 64)})
		g.Y.To = v
		if v >= most && v > g.Y.From {
			return p
		}
	}
}
