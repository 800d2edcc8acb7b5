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
		if x.Key == key && x.Group == nil && x.List == nil && x.orders == nil && x.Text == "" {
			return x.Number
		}
	}
	return math.NaN()
}

// MarshalJSON writes the values as an object.
func (v Values) MarshalJSON() ([]byte, error) { return v.appendJSON(nil), nil }

// MarshalJSON writes the verdict with the keys that scripts rely on.
func (v Verdict) MarshalJSON() ([]byte, error) { return v.appendJSON(nil), nil }

// The documents are put together by hand, so that one of a million rotors
// takes no longer than its arithmetic.

func (v Values) appendJSON(b []byte) []byte {
	b = append(b, '{')
	for i := range v {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(appendText(b, v[i].Key), ':')
		b = v[i].appendJSON(b)
	}
	return append(b, '}')
}

func (x *Value) appendJSON(b []byte) []byte {
	switch {
	case x.orders != nil:
		b = append(b, '[')
		for i := range x.orders.list {
			if i > 0 {
				b = append(b, ',')
			}
			b = append(b, '{')
			for k, n := range x.orders.numbers(i) {
				b = append(appendText(b, orderKeys[k]), ':')
				b = append(appendNumber(b, n), ',')
			}
			b = strconv.AppendBool(append(b, `"half_blind":`...), x.orders.list[i].HalfBlind)
			b = append(b, '}')
		}
		return append(b, ']')
	case x.List != nil:
		b = append(b, '[')
		for i, v := range x.List {
			if i > 0 {
				b = append(b, ',')
			}
			b = v.appendJSON(b)
		}
		return append(b, ']')
	case x.Group != nil:
		return x.Group.appendJSON(b)
	case x.Text != "":
		return appendText(b, x.Text)
	case x.Flag != nil:
		return strconv.AppendBool(b, *x.Flag)
	}
	return appendNumber(b, x.Number)
}

func (v *Verdict) appendJSON(b []byte) []byte {
	b = append(b, `{"of":`...)
	b = appendText(b, v.Of)
	b = append(b, `,"verdict":`...)
	b = appendText(b, v.Verdict.String())
	for _, n := range []struct {
		key string
		v   float64
	}{{`,"value":`, v.Value}, {`,"limit":`, v.Limit}, {`,"limit_good":`, v.Good}, {`,"doubt":`, v.Doubt}} {
		b = append(b, n.key...)
		b = appendNumber(b, n.v)
	}
	b = append(b, `,"unit":`...)
	b = appendText(b, v.Unit)
	b = append(b, `,"mark":`...)
	b = appendKnown(b, v.Mark)
	b = append(b, `,"source":`...)
	b = appendKnown(b, v.Source)
	return append(b, '}')
}

// appendKnown is appendText, and null for "".
func appendKnown(b []byte, s string) []byte {
	if s == "" {
		return append(b, "null"...)
	}
	return appendText(b, s)
}

// plainByte holds of what stands in JSON as it is.
var plainByte = func() (plain [256]bool) {
	for c := ' '; c < 0x7f; c++ {
		plain[c] = c != '"' && c != '\\'
	}
	return plain
}()

// appendText writes a string; what is not plain goes the library's way.
func appendText(b []byte, s string) []byte {
	for i := range len(s) {
		if !plainByte[s[i]] {
			return appendAny(b, s)
		}
	}
	b = append(b, '"')
	b = append(b, s...)
	return append(b, '"')
}

// appendAny writes v as encoding/json does.
func appendAny(b []byte, v any) []byte {
	var buf bytes.Buffer
	e := json.NewEncoder(&buf)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		panic("chock: a string does not become JSON: " + err.Error()) // it always does
	}
	return append(b, bytes.TrimSuffix(buf.Bytes(), []byte("\n"))...)
}

// jsonDigits are those of a number that count in JSON, so that no reader sees
// 0.13199999999999998.
const jsonDigits = 9

// appendNumber writes a float64 as encoding/json would write it with nine
// digits: null where it is unknown, zero without a sign.
func appendNumber(b []byte, f float64) []byte {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return append(b, "null"...)
	}
	if f == 0 {
		return append(b, '0')
	}
	if f < 0 {
		b, f = append(b, '-'), -f
	}
	var room [32]byte
	digits, exp := nineDigits(room[:0], f)
	switch {
	case exp < -6 || exp >= 21:
		b = append(b, digits[0])
		if len(digits) > 1 {
			b = append(append(b, '.'), digits[1:]...)
		}
		b = append(b, 'e')
		if exp > 0 {
			b = append(b, '+')
		}
		return strconv.AppendInt(b, int64(exp), 10)
	case exp < 0:
		b = append(b, "0.000000"[:1-exp]...)
		return append(b, digits...)
	case exp >= len(digits)-1:
		b = append(b, digits...)
		for range exp - len(digits) + 1 {
			b = append(b, '0')
		}
		return b
	}
	b = append(append(b, digits[:exp+1]...), '.')
	return append(b, digits[exp+1:]...)
}

// nineDigits gives f, more than 0, as d.dddddddd times a power of ten: the
// digits, without zeros at the end, and the power.
func nineDigits(b []byte, f float64) (digits []byte, exp int) {
	const most = 1e9 // nine digits before the point
	if f >= 1e-13 && f < 1e21 {
		// Nearly every number: brought to nine digits by a power of ten, and
		// rounded where no error of that step can reach the next half.
		exp = int(math.Floor(float64(math.Ilogb(f)) * (math.Ln2 / math.Ln10))) // or one less than it is
		up := f * math.Pow10(jsonDigits-1-exp)
		if up >= most {
			up, exp = up/10, exp+1
		}
		whole := math.Floor(up)
		if half := math.Abs(up - whole - 0.5); half > 1e-4 {
			n := uint64(whole)
			if up-whole > 0.5 {
				n++
			}
			if n == most {
				n, exp = n/10, exp+1
			}
			for n%10000 == 0 {
				n /= 10000
			}
			for n%10 == 0 {
				n /= 10
			}
			return strconv.AppendUint(b, n, 10), exp
		}
	}
	text := strconv.AppendFloat(b, f, 'e', jsonDigits-1, 64) // d.dddddddde±dd
	exp, err := strconv.Atoi(string(text[jsonDigits+2:]))
	if err != nil {
		panic("chock: strconv wrote " + string(text))
	}
	digits = append(text[:1], text[2:jsonDigits+1]...)
	for len(digits) > 1 && digits[len(digits)-1] == '0' {
		digits = digits[:len(digits)-1]
	}
	return digits, exp
}
