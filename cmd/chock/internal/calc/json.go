package calc

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"
)

// Values are written to JSON as one object, in their order.
type Values []Value

// Unknown are values that are not known: a key of which a calculation that
// was not run says nothing.
func Unknown(keys ...string) Values {
	var v Values
	for _, k := range keys {
		v = append(v, Value{Key: k, Number: math.NaN()})
	}
	return v
}

// Get finds the number under a key; NaN where it is unknown.
func (v Values) Get(key string) float64 {
	for _, x := range v {
		if x.Key == key && x.Group == nil && x.List == nil {
			return x.Number
		}
	}
	return math.NaN()
}

// MarshalJSON writes the values as an object.
func (v Values) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, x := range v {
		if i > 0 {
			b.WriteByte(',')
		}
		key, err := json.Marshal(x.Key)
		if err != nil {
			return nil, err
		}
		b.Write(key)
		b.WriteByte(':')
		text, err := x.text()
		if err != nil {
			return nil, err
		}
		b.Write(text)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

func (x Value) text() ([]byte, error) {
	switch {
	case x.List != nil:
		return json.Marshal(x.List)
	case x.Group != nil:
		return json.Marshal(x.Group)
	case x.Flag != nil:
		return json.Marshal(*x.Flag)
	}
	return json.Marshal(number(x.Number))
}

// number is a float64 as JSON: null where it is unknown, and nine digits that
// count, so that no reader sees 0.13199999999999998.
type number float64

func (n number) MarshalJSON() ([]byte, error) {
	f := float64(n)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return []byte("null"), nil
	}
	f, err := strconv.ParseFloat(strconv.FormatFloat(f, 'g', 9, 64), 64)
	if err != nil {
		return nil, err
	}
	return json.Marshal(f + 0) // a negative zero becomes 0
}

// MarshalJSON writes the verdict with the keys that scripts rely on.
func (v Verdict) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Of      string  `json:"of"`
		Verdict string  `json:"verdict"`
		Value   number  `json:"value"`
		Limit   number  `json:"limit"`
		Good    number  `json:"limit_good"`
		Doubt   number  `json:"doubt"`
		Unit    string  `json:"unit"`
		Mark    *string `json:"mark"`
		Source  *string `json:"source"`
	}{v.Of, v.Verdict.String(), number(v.Value), number(v.Limit), number(v.Good), number(v.Doubt), v.Unit, known(v.Mark), known(v.Source)})
}

func known(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}
