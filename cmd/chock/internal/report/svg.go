package report

import (
	"fmt"
	"html/template"
	"math"
	"strconv"
	"strings"

	"chock/cmd/chock/internal/ask"
)

// A drawing is 360 wide: on a phone one unit is about one pixel. What stands
// in it is short, for the width of letters is not known here; all that is
// longer stands under it in the page.
const (
	drawn  = 360
	letter = 8.4 // no face in common use has wider letters on average, at 14
	lineUp = 18
)

// svg draws with lines in the colour of the text round it, so that light, dark
// and paper need nothing more.
type svg struct {
	b strings.Builder
	h float64 // so far
}

// SVG draws a plot; id tells its title and description from those of others.
func (p *Plot) SVG(id string) template.HTML {
	s := &svg{}
	switch {
	case p.Clock != nil:
		s.clock(p.Clock)
	case p.Rows != nil:
		s.rows(p.Rows)
	case p.Graph != nil:
		s.graph(p.Graph)
	}
	for _, k := range p.Key {
		s.key(k)
	}
	id = template.HTMLEscapeString(id)
	return template.HTML(fmt.Sprintf("<svg viewBox=\"0 0 %d %s\" role=\"img\" aria-labelledby=\"%s-t\" aria-describedby=\"%s-d\" font-size=\"14\" fill=\"currentColor\">\n"+
		"<title id=\"%s-t\">%s</title>\n<desc id=\"%s-d\">%s</desc>\n%s</svg>", drawn, num(s.h+6), id, id, id, escaped(p.Title), id, escaped(p.Say), s.b.String()))
}

// escaped shows data; nothing in it is obeyed.
func escaped(text string) string { return template.HTMLEscapeString(ask.Shown(text)) }

// num is a place to a tenth of a unit.
func num(v float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(v, 'f', 1, 64), ".0")
}

func (s *svg) put(format string, args ...any) { fmt.Fprintf(&s.b, format+"\n", args...) }

func (s *svg) text(x, y float64, anchor, words string) {
	s.put(`<text x="%s" y="%s" text-anchor="%s">%s</text>`, num(x), num(y), anchor, escaped(words))
}

// stroke draws one line through points.
func (s *svg) stroke(ps []Point, k Stroke, width float64, closed bool) {
	tag := "polyline"
	if closed {
		tag = "polygon"
	}
	dash := ""
	if k != Solid {
		dash = fmt.Sprintf(` stroke-dasharray="%s"`, k)
	}
	s.put(`<%s points="%s" fill="none" stroke="currentColor" stroke-width="%s"%s/>`, tag, places(ps), num(width), dash)
}

func places(ps []Point) string {
	var b strings.Builder
	for i, p := range ps {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(num(p.X) + "," + num(p.Y))
	}
	return b.String()
}

func (s *svg) dot(p Point, r float64) {
	s.put(`<circle cx="%s" cy="%s" r="%s"/>`, num(p.X), num(p.Y), num(r))
}

// key adds a line that says what a stroke means.
func (s *svg) key(k Key) {
	for i, words := range folded(k.Say, 36) {
		s.h += lineUp + 2
		if i == 0 {
			s.stroke([]Point{{4, s.h - 5}, {40, s.h - 5}}, k.Stroke, 2, false)
		}
		s.text(48, s.h, "start", words)
	}
}

// folded breaks words into lines of at most n letters.
func folded(text string, n int) []string {
	var out []string
	row := ""
	for _, word := range strings.Fields(text) {
		for r := []rune(word); len(r) > n; r = []rune(word) {
			if row != "" {
				out, row = append(out, row), ""
			}
			out, word = append(out, string(r[:n])), string(r[n:])
		}
		if row != "" && len([]rune(row))+1+len([]rune(word)) > n {
			out, row = append(out, row), ""
		}
		row = strings.TrimSpace(row + " " + word)
	}
	if row != "" {
		out = append(out, row)
	}
	return out
}

// clock draws readings round a rotor, with a ring through their middle and one
// at either side.
func (s *svg) clock(c *Clock) {
	const cx, cy, ring, swing, labels, hub = drawn / 2, 140, 84, 26, 118, 30
	place := func(deg, r float64) Point {
		a := deg * math.Pi / 180
		return Point{cx + r*math.Sin(a), cy - r*math.Cos(a)}
	}
	radius := func(v float64) float64 { return ring + swing*(v-c.Mean)/c.Step }
	s.put(`<g class="soft" fill="none" stroke="currentColor">`)
	for _, r := range []float64{ring - swing, ring, ring + swing} {
		s.put(`<circle cx="%d" cy="%d" r="%s"/>`, cx, cy, num(r))
	}
	n := len(c.Spots)
	for i := range n {
		deg := 360 * float64(i) / float64(n)
		a, b := place(deg, ring-swing), place(deg, ring+swing)
		s.put(`<line x1="%s" y1="%s" x2="%s" y2="%s"/>`, num(a.X), num(a.Y), num(b.X), num(b.Y))
	}
	s.put(`</g>`)

	// The readings; a gap where one is missing.
	var run []Point
	whole := true
	for i, sp := range c.Spots {
		if math.IsNaN(sp.Value) {
			s.part(run)
			run, whole = nil, false
			continue
		}
		run = append(run, place(360*float64(i)/float64(n), radius(sp.Value)))
	}
	if whole {
		s.stroke(run, Solid, 2, true)
	} else {
		if first := c.Spots[0]; len(run) > 0 && !math.IsNaN(first.Value) {
			run = append(run, place(0, radius(first.Value)))
		}
		s.part(run)
	}
	every := (n + 15) / 16 // labels have room for so many
	for i, sp := range c.Spots {
		deg := 360 * float64(i) / float64(n)
		if !math.IsNaN(sp.Value) {
			s.dot(place(deg, radius(sp.Value)), 4)
		}
		if i%every == 0 {
			at, anchor := place(deg, labels), "middle"
			switch { // beside the ring, not across it
			case at.X > cx+10:
				anchor = "start"
			case at.X < cx-10:
				anchor = "end"
			case at.Y > cy:
				at.Y += 5
			}
			s.text(at.X, at.Y+5, anchor, sp.Label)
		}
	}
	for i, w := range []Wave{c.First, c.Second} {
		if w.Amplitude <= 0 {
			continue
		}
		var round []Point
		for deg := 0.0; deg < 360; deg += 5 {
			round = append(round, place(deg, radius(c.Mean+w.at(deg, float64(i+1)))))
		}
		s.stroke(round, []Stroke{Dashed, Dotted}[i], 1.5, true)
	}
	if c.First.Amplitude > 0 {
		tip, a, b := place(c.First.High, ring-swing-2), place(c.First.High-9, ring-swing-14), place(c.First.High+9, ring-swing-14)
		s.put(`<polygon points="%s"/>`, places([]Point{tip, a, b}))
	}
	for i := range max(c.Studs, 1) {
		at := place(360*float64(i)/float64(max(c.Studs, 1)), hub)
		r := 10.0
		if c.Studs > 8 {
			r = 0 // only the number has room
		}
		s.put(`<circle cx="%s" cy="%s" r="%s" fill="none" stroke="currentColor"/>`, num(at.X), num(at.Y), num(r))
		s.text(at.X, at.Y+5, "middle", strconv.Itoa(i+1))
	}
	s.h = cy + labels + 18
}

// part draws a run of readings between two gaps.
func (s *svg) part(run []Point) {
	if len(run) > 1 {
		s.stroke(run, Solid, 2, false)
	}
}

// rows draws values on one scale, one row under another.
func (s *svg) rows(r *Rows) {
	const left, right, high = 12, drawn - 12, 20
	x := func(v float64) float64 { return left + (right-left)*(v-r.From)/(r.To-r.From) }
	for _, row := range r.Rows {
		for _, words := range folded(row.Label, 40) {
			s.h += lineUp
			s.text(left, s.h, "start", words)
		}
		top := s.h + 8
		middle := top + high/2
		s.put(`<line class="soft" x1="%d" y1="%s" x2="%d" y2="%s" stroke="currentColor"/>`, left, num(middle), right, num(middle))
		for _, v := range row.Values {
			switch {
			case r.Bars && row.Full:
				s.put(`<rect x="%d" y="%s" width="%s" height="%d" stroke="currentColor"/>`, left, num(top), num(x(v)-left), high)
			case r.Bars:
				s.put(`<rect class="paper" x="%d" y="%s" width="%s" height="%d" fill="#fff" stroke="currentColor"/>`, left, num(top), num(x(v)-left), high)
			default:
				s.dot(Point{x(v), middle}, 5)
			}
		}
		for _, l := range r.Limits {
			// White under it, so that it shows on a full bar too.
			s.put(`<line class="under" x1="%s" y1="%s" x2="%s" y2="%s" stroke="#fff" stroke-width="5"/>`, num(x(l.At)), num(top-4), num(x(l.At)), num(top+high+4))
			s.stroke([]Point{{x(l.At), top - 4}, {x(l.At), top + high + 4}}, short(l.Stroke), 2.5, false)
		}
		s.h = top + high + 8
	}
}

// short is a stroke for a line of a few units.
func short(k Stroke) Stroke {
	if k == Dashed {
		return "5 3"
	}
	return k
}

// graph draws lines over two scales.
func (s *svg) graph(g *Graph) {
	const left, right, top, bottom = 60, drawn - 68, 28, 212
	x := func(v float64) float64 { return left + (right-left)*(v-g.X.From)/(g.X.To-g.X.From) }
	y := func(v float64) float64 { return bottom - (bottom-top)*(v-g.Y.From)/(g.Y.To-g.Y.From) }
	at := func(p Point) Point { return Point{x(p.X), y(p.Y)} }
	s.text(4, 14, "start", g.Y.Title)
	if len(g.Band) > 2 {
		var ps []Point
		for _, p := range g.Band {
			ps = append(ps, at(p))
		}
		s.put(`<polygon class="band" points="%s" fill-opacity="0.15"/>`, places(ps))
	}
	s.put(`<g class="soft" stroke="currentColor">`)
	for _, t := range g.Y.Ticks {
		s.put(`<line x1="%d" y1="%s" x2="%d" y2="%s"/>`, left, num(y(t.At)), right, num(y(t.At)))
	}
	for _, t := range g.X.Ticks {
		s.put(`<line x1="%s" y1="%d" x2="%s" y2="%d"/>`, num(x(t.At)), top, num(x(t.At)), bottom+5)
	}
	s.put(`</g>`)
	for _, t := range g.Y.Ticks {
		s.text(left-6, y(t.At)+5, "end", t.Label)
		if t.Also != "" {
			s.text(right+6, y(t.At)+5, "start", t.Also)
		}
	}
	for _, t := range g.X.Ticks {
		s.text(x(t.At), bottom+lineUp+2, "middle", t.Label)
		s.text(x(t.At), bottom+2*lineUp+2, "middle", t.Also)
	}
	for _, m := range g.Level {
		s.stroke([]Point{{left, y(m.At)}, {right, y(m.At)}}, m.Stroke, 1.5, false)
	}
	for _, m := range g.Across {
		s.stroke([]Point{{x(m.At), top}, {x(m.At), bottom}}, m.Stroke, 2.5, false)
	}
	for _, c := range g.Curves {
		var ps []Point
		for _, p := range c.Points {
			ps = append(ps, at(p))
		}
		s.stroke(ps, c.Stroke, 2.5, false)
		if c.Dots {
			for _, p := range ps {
				s.dot(p, 3.5)
			}
		}
	}
	s.text((left+right)/2, bottom+3*lineUp+4, "middle", g.X.Title)
	s.h = bottom + 3*lineUp + 8
}
