package report

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"chock/brakes/unit"
	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/record"
)

// A History is all checks of one vehicle.
type History struct {
	Vehicle string
	Checks  []Check // by date
	Wear    []*Wear
	Next    Next
	Left    []record.Kept // files that could not be read
}

// A Check is one record of a history.
type Check struct {
	Path   string
	Record *record.Record
}

// A Next is when to check next, by our estimate.
type Next struct {
	When  string // before-driving after-repair date
	Date  time.Time
	Miles *float64 // or at this reading of the odometer, where that comes sooner
	For   string   // the part whose wear decides; "" for none
}

// nextRule is how Next is found.
const nextRule = "Our estimate: a year after the last check at the most; where a part wears towards its limit, half of the way from its last reading " +
	"to the earliest day, or mile, at which the limit can be reached; and before all else what the last check said about driving."

// trendRule is how a wear is carried on.
const trendRule = "A straight line through the readings since the part was new. How far the rate is known comes from the doubts of the gauges or the scatter about the line, " +
	"whichever is larger, at about 95 in 100. A part that comes back by more than the doubts counts as a new one. Cutting a rotor or drum looks like wear here. " +
	"Hills, loads and heat wear faster than the line."

// NewHistory gathers the records of one vehicle from those of a folder. known
// are the names of all vehicles in it.
func NewHistory(vehicle string, kept []record.Kept) (h *History, known []string) {
	h = &History{Vehicle: vehicle}
	want := &record.Record{Vehicle: vehicle}
	for _, k := range kept {
		switch {
		case k.Record == nil:
			h.Left = append(h.Left, k)
		case SameVehicle(k.Record, want):
			h.Checks = append(h.Checks, Check{k.Path, k.Record})
		}
		if k.Record != nil && k.Record.Vehicle != "" {
			known = append(known, k.Record.Vehicle)
		}
	}
	slices.SortStableFunc(h.Checks, func(a, b Check) int { return a.Record.Started.Compare(b.Record.Started) })
	slices.SortFunc(known, func(a, b string) int {
		return cmp.Or(strings.Compare(strings.ToLower(a), strings.ToLower(b)), strings.Compare(b, a))
	})
	if n := len(h.Checks); n > 0 {
		h.Wear = wearOf(h.Checks)
		h.Next = next(h.Checks[n-1].Record, h.Wear)
	}
	return h, slices.CompactFunc(known, strings.EqualFold)
}

func next(last *record.Record, wear []*Wear) Next {
	n := Next{When: "date", Date: last.Started.AddDate(1, 0, 0)}
	switch last.Drive {
	case "stop":
		n.When = "before-driving"
	case "care":
		n.When = "after-repair"
	}
	for _, w := range wear {
		at := w.Points[len(w.Points)-1]
		if w.Year != nil && w.Year.Ranged {
			half := at.At.Add(time.Duration((w.Year.Early - days(at.At)) / 2 * float64(24*time.Hour)))
			if w.Year.Early-days(at.At) < 2*366 && half.Before(n.Date) {
				n.Date, n.For = half, w.name()
			}
		}
		if w.Mile != nil && w.Mile.Ranged {
			half := *at.Miles + (w.Mile.Early-*at.Miles)/2
			if n.Miles == nil || half < *n.Miles {
				n.Miles = &half
			}
		}
	}
	return n
}

func (w *Wear) name() string { return at(upperFirst(w.Part), []string{w.Wheel}) }

// mostPoints is how many readings of a part are printed; the line goes through
// all.
const mostPoints = 12

// Doc writes a history for people.
func (h *History) Doc() *Doc {
	d := &Doc{Title: "Owner's record: the checks of one vehicle", whole: true}
	p := page{doc: d}
	d.Item(ask.Plain, "Vehicle: ", h.Vehicle)
	last := h.Checks[len(h.Checks)-1].Record
	d.Advice(driveStyle(last.Drive), dated("Last check", last)+": "+adviceOf(last))
	d.Print(ask.Plain, "Next check: "+h.Next.say())
	h.wear(p)
	p.heading(headChecks)
	for _, c := range h.Checks {
		h.check(p, c)
	}
	if len(h.Left) > 0 {
		p.heading("Left out, since they could not be read")
		for _, k := range h.Left {
			d.Item(ask.Care, "- ", k.Err.Error())
		}
	}
	p.heading("How this is reckoned")
	d.Print(ask.Plain, trendRule)
	d.Print(ask.Plain, nextRule)
	p.heading("Have it verified")
	d.Print(ask.Plain, standingVerify)
	d.Print(ask.Plain, "")
	d.Print(ask.Dim, standingNotice)
	return d
}

func (n Next) say() string {
	date := "by " + day(n.Date)
	if n.Miles != nil {
		date += ", or at " + distance(100*math.Floor(*n.Miles/100)) + " where that comes sooner"
	}
	if n.For != "" {
		date += " (" + lowerFirst(n.For) + ")"
	}
	switch n.When {
	case "before-driving":
		return "before it is driven, when what was found has been put right. Then " + date + "."
	case "after-repair":
		return "when what was found has been put right. Then " + date + "."
	}
	return date + "."
}

// distance says miles and kilometres.
func distance(miles float64) string {
	return thousands(miles) + " mi (" + thousands(miles*metresPerMile/1000) + " km)"
}

func (h *History) check(p page, c Check) {
	r := c.Record
	head := cmp.Or(day(r.Started), "No date")
	if m := miles(r); m != nil {
		head += ", " + distance(*m)
	}
	if !r.Finished {
		head += ", stopped before its end"
	}
	p.doc.Item(driveStyle(r.Drive), "- ", head+": "+adviceOf(r))
	var said, found []string
	for _, x := range r.Complaints {
		if !x.Opened {
			said = append(said, lowerFirst(x.Say))
		}
	}
	for _, s := range []string{"found", "likely", "mended"} {
		for _, f := range (page{rec: r}).by(s) {
			found = append(found, map[string]string{"found": "", "likely": "likely: ", "mended": "put right: "}[s]+lowerFirst(at(f.Say, f.Wheels)))
		}
	}
	if len(said) > 0 {
		p.doc.Item(ask.Plain, "  ", "complaint: "+strings.Join(said, "; "))
	}
	p.doc.Item(ask.Plain, "  ", "found: "+cmp.Or(strings.Join(found, "; "), "nothing"))
	p.doc.Item(ask.Dim, "  ", "record: "+filepath.Base(c.Path))
}

func (h *History) wear(p page) {
	if len(h.Wear) == 0 {
		return
	}
	p.heading("Wear")
	for i, w := range h.Wear {
		if i > 0 {
			p.doc.Print(ask.Plain, "")
		}
		p.doc.Under(ask.Plain, w.name())
		points := w.Points
		if len(points) > mostPoints {
			points = points[len(points)-mostPoints:]
			p.doc.Item(ask.Dim, "- ", fmt.Sprintf("%d readings, of which the last %d stand here", len(w.Points), mostPoints))
		}
		if w.Before > 0 {
			p.doc.Item(ask.Plain, "- ", fmt.Sprintf("%s of parts before this one left out", count(w.Before, "reading")))
		}
		for _, pt := range points {
			text := cmp.Or(day(pt.At), "No date")
			if pt.Miles != nil {
				text += ", " + distance(*pt.Miles)
			}
			p.doc.Item(ask.Plain, "- ", text+": "+inBoth(w.Unit, pt.Value, orZero(pt.Doubt))+w.past(pt))
			p.doc.Blocks[len(p.doc.Blocks)-1].Bar = w.bar(pt)
		}
		for _, s := range w.say() {
			p.doc.Item(s.style, "- ", s.text)
		}
		if plot := w.plot(); plot != nil {
			p.doc.Draw([]*Plot{plot})
		}
	}
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func orZero(f *float64) float64 {
	if f == nil {
		return 0
	}
	return *f
}

// room is how far a reading is from the limit, which is known.
func (w *Wear) room(p WearPoint) float64 {
	if w.Grows {
		return *w.Limit - p.Value
	}
	return p.Value - *w.Limit
}

func (w *Wear) past(p WearPoint) string {
	if w.Limit == nil || w.room(p) > 0 {
		return ""
	}
	return ", at its limit or past it"
}

// bar draws how much is left of a part until its limit, beside the most that
// any reading had.
func (w *Wear) bar(p WearPoint) string {
	if w.Limit == nil || w.room(p) <= 0 {
		return ""
	}
	most := 0.0
	for _, q := range w.Points {
		most = max(most, w.room(q))
	}
	return " " + strings.Repeat("=", max(int(math.Round(20*w.room(p)/most)), 1))
}

type line struct {
	style ask.Style
	text  string
}

// say tells the trend and what it leads to.
func (w *Wear) say() []line {
	n := len(w.Points)
	last := w.Points[n-1]
	if w.Limit != nil && (w.Grows && last.Value > *w.Limit || !w.Grows && last.Value < *w.Limit) {
		return []line{{ask.Halt, "The last reading is past the limit, " + inBoth(w.Unit, *w.Limit, orZero(last.Doubt)) + ": this part is worn out."}}
	}
	if n == 1 {
		return []line{{ask.Plain, "One reading: nothing to compare it with."}}
	}
	if w.Year == nil {
		return []line{{ask.Plain, "All readings are of one time: no trend to see."}}
	}
	verb := "goes down"
	if w.Grows {
		verb = "grows"
	}
	var out []line
	rate := func(t *Trend, per string) {
		switch {
		case t.Known && t.Low <= 0:
			out = append(out, line{ask.Plain, fmt.Sprintf("No wear that is more than the doubt, over %s. At most %s.", per, worn(max(t.High, 0)))})
		case !t.Known && t.Rate <= 0:
			out = append(out, line{ask.Plain, "No wear to see over " + per + "."})
		case !t.Known:
			out = append(out, line{ask.Plain, fmt.Sprintf("It %s by about %s in %s. No doubt is known for these readings, so no range is.", verb, worn(t.Rate), per)})
		default:
			out = append(out, line{ask.Plain, fmt.Sprintf("It %s by about %s in %s, between %s and %s.", verb, worn(t.Rate), per, worn(t.Low), worn(t.High))})
		}
	}
	rate(w.Year, "a year")
	if w.Mile != nil {
		rate(w.Mile, "1,000 miles (1,609 km)")
	}
	limit := "No limit is known, so nobody can say when it is reached."
	style := ask.Plain
	if w.Limit != nil {
		limit = ""
		name := "The limit " + inBoth(w.Unit, *w.Limit, orZero(last.Doubt))
		if t := w.Year; t.Ranged {
			limit = name + " can be reached " + between(t, func(x float64) string { return time.Unix(int64(x*86400), 0).UTC().Format("January 2006") }, days(last.At), 40*daysPerYear)
		}
		if t := w.Mile; t != nil && t.Ranged {
			limit = cmp.Or(limit, name+" can be reached") + ", by the odometer " + between(t, func(x float64) string { return distance(1000 * math.Round(x/1000)) }, *last.Miles, 500000)
		}
		if limit != "" {
			limit += "."
			style = ask.Care
		}
	}
	if limit != "" {
		out = append(out, line{style, limit})
	}
	if n == 2 {
		out = append(out, line{ask.Plain, "Two points make a line, not a forecast: measure again before you rely on it."})
	}
	return out
}

// worn is what is worn away, in mm, with no idle digits.
func worn(mm float64) string {
	if mm < 0.1 {
		return inBoth("mm", mm, 0)
	}
	return unit.FormatTo(unit.KindLength, mm/1000, "mm", 2) + " (" + unit.FormatTo(unit.KindLength, mm/1000, "in", 3) + ")"
}

// between says a range. What lies further than far beyond the last reading is
// not told apart from never.
func between(t *Trend, say func(float64) string, last, far float64) string {
	switch {
	case t.Early > last+far:
		return "in more years or miles than can be told"
	case t.Late > last+far:
		if t.Early <= last {
			return "from now on, or much later"
		}
		return "from " + say(t.Early) + " on, or much later"
	case t.Early <= last:
		return "from now on, by " + say(t.Late) + " at the latest"
	case say(t.Early) == say(t.Late):
		return "about " + say(t.Early)
	}
	return "between " + say(t.Early) + " and " + say(t.Late)
}

type jsonHistory struct {
	SchemaVersion int        `json:"schema_version"`
	Vehicle       string     `json:"vehicle"`
	Checks        []jsonKept `json:"checks"`
	Wear          []jsonWear `json:"wear"`
	Next          jsonNext   `json:"next_check"`
	LeftOut       []jsonLeft `json:"left_out"`
	Rules         []string   `json:"rules"`
	Caution       string     `json:"caution"`
	Verify        string     `json:"verify"`
}

// A jsonKept is a record in a list or a history.
type jsonKept struct {
	File       string        `json:"file"`
	Started    *string       `json:"started"`
	Finished   bool          `json:"finished"`
	Vehicle    *string       `json:"vehicle"`
	Odometer   *float64      `json:"odometer_mi"`
	Complaints []string      `json:"complaints"`
	Drive      *string       `json:"drive"`
	Advice     string        `json:"advice"`
	Reason     *string       `json:"reason"`
	Found      []jsonInShort `json:"found"`
}

type jsonInShort struct {
	Cause    string   `json:"cause"`
	Say      string   `json:"say"`
	Standing string   `json:"standing"`
	Wheels   []string `json:"wheels"`
	Drive    *string  `json:"drive"`
}

type jsonWear struct {
	Part     string          `json:"part"`
	Wheel    string          `json:"wheel"`
	Unit     string          `json:"unit"`
	Limit    *float64        `json:"limit"`
	Before   int             `json:"readings_before_renewal"`
	Points   []jsonWearPoint `json:"points"`
	Year     *jsonTrend      `json:"per_year"`
	Mile     *jsonTrend      `json:"per_1000_miles"`
	Earliest *string         `json:"limit_earliest"`
	Latest   *string         `json:"limit_latest"`
	EarlyAt  *float64        `json:"limit_earliest_mi"`
	LateAt   *float64        `json:"limit_latest_mi"`
}

type jsonWearPoint struct {
	Date  *string  `json:"date"`
	Miles *float64 `json:"odometer_mi"`
	Value float64  `json:"value"`
	Doubt *float64 `json:"doubt"`
	File  string   `json:"file"`
}

type jsonTrend struct {
	Rate float64  `json:"rate"`
	Low  *float64 `json:"low"`
	High *float64 `json:"high"`
}

type jsonNext struct {
	When  string   `json:"when"`
	Date  *string  `json:"date"`
	Miles *float64 `json:"odometer_mi"`
}

type jsonLeft struct {
	File string `json:"file"`
	Why  string `json:"why"`
}

// JSON writes a history as docs/json.md has it.
func (h *History) JSON(w io.Writer) error {
	d := jsonHistory{SchemaVersion: jsonSchema, Vehicle: h.Vehicle, Checks: []jsonKept{}, Wear: []jsonWear{}, LeftOut: leftJSON(h.Left),
		Next: jsonNext{h.Next.When, moment(h.Next.Date), number(h.Next.Miles)}, Rules: []string{trendRule, nextRule},
		Caution: standingCaution, Verify: standingVerify}
	for _, c := range h.Checks {
		d.Checks = append(d.Checks, keptJSON(c.Path, c.Record))
	}
	for _, w := range h.Wear {
		j := jsonWear{Part: w.Part, Wheel: w.Wheel, Unit: w.Unit, Limit: w.Limit, Before: w.Before, Points: []jsonWearPoint{}, Year: w.Year.json(), Mile: w.Mile.json()}
		for _, p := range w.Points {
			j.Points = append(j.Points, jsonWearPoint{moment(p.At), p.Miles, p.Value, p.Doubt, p.File})
		}
		if t := w.Year; t != nil && t.Ranged {
			date := func(x float64) *string {
				if number(&x) == nil || x > 300*daysPerYear { // beyond what a date can say
					return nil
				}
				return moment(time.Unix(int64(x*86400), 0))
			}
			j.Earliest, j.Latest = date(t.Early), date(t.Late)
		}
		if t := w.Mile; t != nil && t.Ranged {
			j.EarlyAt, j.LateAt = number(&t.Early), number(&t.Late)
		}
		d.Wear = append(d.Wear, j)
	}
	return writeJSON(w, d)
}

func (t *Trend) json() *jsonTrend {
	if t == nil {
		return nil
	}
	j := &jsonTrend{Rate: t.Rate}
	if t.Known {
		j.Low, j.High = &t.Low, &t.High
	}
	return j
}

func leftJSON(left []record.Kept) []jsonLeft {
	out := []jsonLeft{}
	for _, k := range left {
		out = append(out, jsonLeft{k.Path, k.Err.Error()})
	}
	return out
}

func keptJSON(path string, r *record.Record) jsonKept {
	j := jsonKept{File: path, Started: moment(r.Started), Finished: r.Finished, Vehicle: word(r.Vehicle), Odometer: miles(r), Complaints: []string{},
		Drive: word(r.Drive), Advice: adviceWords(r), Reason: word(r.Reason), Found: []jsonInShort{}}
	for _, c := range r.Complaints {
		j.Complaints = append(j.Complaints, c.ID)
	}
	for _, f := range r.Findings {
		if f.Standing == "found" || f.Standing == "likely" || f.Standing == "mended" {
			j.Found = append(j.Found, jsonInShort{f.Cause, f.Say, f.Standing, list(f.Wheels), word(f.Drive)})
		}
	}
	return j
}
