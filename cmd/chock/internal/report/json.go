// Package report lays out a record for people and for programs.
package report

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"strings"
	"time"

	"chock/cmd/chock/internal/record"
)

// jsonSchema counts the changes of the JSON document's shape.
const jsonSchema = 1

type jsonDocument struct {
	SchemaVersion int               `json:"schema_version"`
	Finished      bool              `json:"finished"`
	Complaints    []string          `json:"complaints"`
	Asked         []jsonAsked       `json:"asked"`
	Measurements  []jsonMeasurement `json:"measurements"`
	Findings      []jsonFinding     `json:"findings"`
	NotExplained  []jsonLine        `json:"not_explained"`
	Drive         *string           `json:"drive"`
	NotChecked    []jsonUnchecked   `json:"not_checked"`
	Caution       string            `json:"caution"`
	Verify        string            `json:"verify"`
	Warnings      []string          `json:"warnings"`
	Sources       []string          `json:"sources"`
}

type jsonAsked struct {
	ID     string  `json:"id"`
	Wheel  *string `json:"wheel"`
	Answer any     `json:"answer"` // an id; a list where several may be ticked
	Text   string  `json:"text"`   // the answer in words
}

type jsonReading struct {
	Input *string  `json:"input"`
	Typed string   `json:"typed"`
	Value *float64 `json:"value"`
	Unit  *string  `json:"unit"`
}

type jsonVerdict struct {
	Of      string   `json:"of"`
	Verdict string   `json:"verdict"`
	Value   *float64 `json:"value"`
	Limit   *float64 `json:"limit"`
	Doubt   *float64 `json:"doubt"`
	Unit    *string  `json:"unit"`
	Mark    *string  `json:"mark"`
	Source  *string  `json:"source"`
}

type jsonMeasurement struct {
	ID          string        `json:"id"`
	Wheel       *string       `json:"wheel"`
	Calculation string        `json:"calculation"`
	Readings    []jsonReading `json:"readings"`
	Results     jsonResults   `json:"results"`
	Outcomes    []string      `json:"outcomes"`
	Verdicts    []jsonVerdict `json:"verdicts"`
}

type jsonLine struct {
	ID     string  `json:"id"`
	Wheel  *string `json:"wheel"`
	Answer *string `json:"answer"`
	Say    string  `json:"say"`
}

type jsonFinding struct {
	Cause    string     `json:"cause"`
	Say      string     `json:"say"`
	Standing string     `json:"standing"`
	Wheels   []string   `json:"wheels"`
	For      []jsonLine `json:"for"`
	Against  []jsonLine `json:"against"`
	Disagree bool       `json:"disagree"`
	About    *int       `json:"about_in_100"`
	From     []jsonFrom `json:"comes_from"`
	Drive    *string    `json:"drive"`
	Do       []string   `json:"do"`
	Caution  *string    `json:"caution"`
	Verify   *string    `json:"verify"`
	Mark     *string    `json:"mark"`
	Source   *string    `json:"source"`
}

type jsonFrom struct {
	Cause   string `json:"cause"`
	Because string `json:"because"`
}

type jsonUnchecked struct {
	Kind      string  `json:"kind"`
	ID        string  `json:"id"`
	Wheel     *string `json:"wheel"`
	Say       string  `json:"say"`
	Why       *string `json:"why"`
	Dangerous bool    `json:"dangerous"`
}

// JSON writes the document of chock talk --json. What is unknown is null, and
// a list is never null.
func JSON(w io.Writer, rec *record.Record) error {
	d := jsonDocument{
		SchemaVersion: jsonSchema,
		Finished:      rec.Finished,
		Asked:         asked(rec),
		NotExplained:  jsonLines(rec.NotExplained),
		Drive:         word(rec.Drive),
		Caution:       strings.Join(cautions(rec), " "),
		Verify:        verify(rec),
		Warnings:      list(rec.Warnings),
		Sources:       list(rec.Sources),
		// made below, one by one
		Complaints: []string{}, Measurements: []jsonMeasurement{}, Findings: []jsonFinding{}, NotChecked: []jsonUnchecked{},
	}
	for _, c := range rec.Complaints {
		d.Complaints = append(d.Complaints, c.ID)
	}
	for _, m := range rec.Measurements {
		j := jsonMeasurement{
			ID: m.ID, Wheel: word(m.Wheel), Calculation: m.Calculation,
			Readings: []jsonReading{}, Results: m.Results, Outcomes: list(m.Outcomes), Verdicts: []jsonVerdict{},
		}
		for _, r := range m.Readings {
			j.Readings = append(j.Readings, jsonReading{word(r.Input), r.Typed, number(r.Value), word(r.Unit)})
		}
		for _, v := range m.Verdicts {
			j.Verdicts = append(j.Verdicts, verdictJSON(v))
		}
		d.Measurements = append(d.Measurements, j)
	}
	for _, f := range rec.Findings {
		var about *int
		if f.About > 0 {
			about = &f.About
		}
		from := []jsonFrom{}
		for _, o := range f.From {
			from = append(from, jsonFrom{o.Cause, o.Because})
		}
		d.Findings = append(d.Findings, jsonFinding{
			Cause: f.Cause, Say: f.Say, Standing: f.Standing, Wheels: list(f.Wheels),
			For: jsonLines(f.For), Against: jsonLines(f.Against), Disagree: f.Disagree, About: about, From: from,
			Drive: word(f.Drive), Do: list(f.Do), Caution: word(f.Caution), Verify: word(f.Verify),
			Mark: word(f.Mark), Source: word(f.Source),
		})
	}
	for _, u := range rec.NotChecked {
		d.NotChecked = append(d.NotChecked, uncheckedJSON(u))
	}
	return writeJSON(w, d)
}

func writeJSON(w io.Writer, document any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(document)
}

// moment is null for no time.
func moment(t time.Time) *string {
	if t.IsZero() {
		return nil
	}
	return new(t.UTC().Format(time.RFC3339))
}

func verdictJSON(v record.Verdict) jsonVerdict {
	return jsonVerdict{v.Of, v.Verdict, number(v.Value), number(v.Limit), number(v.Doubt), word(v.Unit), word(v.Mark), word(v.Source)}
}

func uncheckedJSON(u record.Unchecked) jsonUnchecked {
	return jsonUnchecked{u.Kind, u.ID, word(u.Wheel), u.Say, word(u.Why), u.Dangerous}
}

// asked lists the answer that stands for each check and wheel, at the place
// where it was first asked.
func asked(rec *record.Record) []jsonAsked {
	out := []jsonAsked{}
	at := map[[2]string]int{}
	for _, a := range rec.Answers {
		j := jsonAsked{ID: a.ID, Wheel: word(a.Wheel), Text: said(a)}
		switch {
		case a.Several && !put(a):
			j.Answer = list(a.Answer)
		case len(a.Answer) > 0: // of a measurement the worst outcome, which stands first
			j.Answer = a.Answer[0]
		case a.Figure != nil:
			j.Answer = a.Figure.Typed
		}
		key := [2]string{a.ID, a.Wheel}
		if i, ok := at[key]; ok {
			out[i] = j
			continue
		}
		at[key] = len(out)
		out = append(out, j)
	}
	return out
}

// put tells whether the question was put aside: not sure, or later.
func put(a record.Answer) bool {
	return len(a.Answer) == 1 && (a.Answer[0] == "unsure" || a.Answer[0] == "later")
}

// said gives an answer in words.
func said(a record.Answer) string {
	switch {
	case len(a.Said) > 0:
		return strings.Join(a.Said, "; ")
	case a.Figure != nil:
		return strings.TrimSpace(a.Figure.Typed + " " + a.Origin)
	case len(a.Readings) > 0:
		var typed []string
		for _, r := range a.Readings {
			typed = append(typed, r.Typed)
		}
		return strings.Join(typed, "; ")
	}
	return strings.Join(a.Answer, "; ")
}

func jsonLines(lines []record.Line) []jsonLine {
	out := []jsonLine{}
	for _, l := range lines {
		out = append(out, jsonLine{l.ID, word(l.Wheel), word(l.Answer), l.Say})
	}
	return out
}

// jsonResults is an object, in the order in which the results were worked out.
type jsonResults []record.Result

func (rs jsonResults) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	seen := map[string]bool{}
	for _, r := range rs {
		if seen[r.Key] {
			continue // an object has each key once
		}
		if len(seen) > 0 {
			b.WriteByte(',')
		}
		seen[r.Key] = true
		key, err := json.Marshal(r.Key)
		if err != nil {
			return nil, err
		}
		value, err := jsonResult(r)
		if err != nil {
			return nil, err
		}
		b.Write(key)
		b.WriteByte(':')
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// jsonResult is a number, an object or a list of objects.
func jsonResult(r record.Result) ([]byte, error) {
	switch {
	case r.List != nil:
		list := []jsonResults{}
		for _, l := range r.List {
			list = append(list, l)
		}
		return json.Marshal(list)
	case r.Group != nil:
		return json.Marshal(jsonResults(r.Group))
	}
	return json.Marshal(number(r.Value))
}

// word is null for "".
func word(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

// number is null for what is unknown or none.
func number(f *float64) *float64 {
	if f == nil || math.IsNaN(*f) || math.IsInf(*f, 0) {
		return nil
	}
	return f
}

func list(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}
