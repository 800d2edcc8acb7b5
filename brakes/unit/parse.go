package unit

import (
	"fmt"
	"strings"
)

// The most digits that a number may have before and after its point.
const (
	mostWhole = 9
	mostAfter = 7
)

// A number is a typed amount: m/div, read to 1/div.
type number struct {
	m        int64
	div      uint64
	fraction bool // typed as a mark on a rule
	end      int  // where the unit begins in the folded text
}

// Parse reads one quantity as typed in a garage: 0.1mm, .004", 4 thou, 7/8,
// 1-1/16 in, 0,1 mm, 30psi, 300F. A number without a unit takes def; with def
// empty it is refused, save for a ratio and a count, which need no unit.
//
// Text is converted to SI exactly and rounded once. A comma is read as a
// decimal mark unless it could be one between thousands.
func Parse(kind Kind, text, def string) (Any, error) {
	if kind == KindWord {
		return parseWord(text)
	}
	t := tableOf(kind)
	if t == nil {
		return Any{}, fmt.Errorf("no quantity is called %s", quote(string(kind)))
	}
	text = strings.TrimSpace(text)
	if s := t.plainScale(def); s != nil {
		if a, ok := s.plain(kind, text); ok {
			return a, nil
		}
	}
	return t.parse(text, def)
}

// parse is Parse for whatever a person types.
func (t *table) parse(text, def string) (Any, error) {
	var f folded
	var name unitName
	num, err := split(t, text, &f, &name)
	if err != nil {
		return Any{}, err
	}
	if name.n == 0 {
		if def == "" && t.find(nil) == nil {
			return Any{}, fault(text, "which unit? one of %s", t.list())
		}
		return t.resolve(text, num, t.named(def), def)
	}
	return t.resolve(text, num, t.find(name.bytes()), string(name.bytes()))
}

func parseWord(text string) (Any, error) {
	text = strings.TrimSpace(text)
	var f folded
	if text == "" {
		return Any{}, fmt.Errorf("nothing typed: want the word of an answer")
	}
	if bad := f.fold(text); bad != "" {
		return Any{}, fault(text, "%s", bad)
	}
	return Word(text), nil
}

// split parts text into its number and the name of its unit.
func split(t *table, text string, f *folded, name *unitName) (number, error) {
	if text == "" {
		return number{}, fmt.Errorf("nothing typed: want %s, like %s", t.want(), t.example)
	}
	if bad := f.fold(text); bad != "" {
		return number{}, fault(text, "%s", bad)
	}
	num, bad := readNumber(f.bytes())
	if bad == "" {
		bad = afterNumber(f.bytes(), num.end)
	}
	if bad == notANumber {
		return number{}, fault(text, "want %s, like %s", t.want(), t.example)
	}
	if bad != "" {
		return number{}, fault(text, "%s", bad)
	}
	if !name.tidy(f.bytes()[num.end:]) {
		return number{}, fault(text, "want one number and one unit, like %s", t.example)
	}
	return num, nil
}

func (t *table) want() string {
	if t.whole {
		return "a whole number"
	}
	if t.find(nil) != nil {
		return "a number"
	}
	return "a number and a unit"
}

// resolve turns a number in a scale into a reading. name is the unit as typed.
func (t *table) resolve(text string, num number, s *scale, name string) (Any, error) {
	if s == nil {
		switch name {
		case "mil", "mils":
			return Any{}, fault(text, "a mil is a thou in one shop and a millimetre in another: write thou or mm")
		case "tenth", "tenths":
			return Any{}, fault(text, "tenths of what? write 0.0001 in, or 0.1 mm")
		}
		if strings.ContainsAny(name, "0123456789") {
			return Any{}, fault(text, "want one number and one unit, like %s", t.example)
		}
		if t.whole {
			return Any{}, fault(text, "a count has no unit: just the number, like %s", t.example)
		}
		return Any{}, fault(text, "unit %s is not one of %s", quote(name), t.list())
	}
	if num.fraction && !s.ruled {
		switch {
		case t.whole:
			return Any{}, fault(text, "want a whole number, like %s", t.example)
		case s.name == "":
			return Any{}, fault(text, "no fractions here: write it as a decimal")
		}
		return Any{}, fault(text, "no fractions of %s: write it as a decimal", s.name)
	}
	if t.whole && (num.m < 0 || num.m%int64(num.div) != 0) {
		return Any{}, fault(text, "want a whole number, like %s", t.example)
	}
	a := Any{Kind: t.kind, Text: text, Unit: s.name}
	a.SI = s.si(num.m, num.div)
	if t.kind == KindTemperature && a.SI < 0 {
		return Any{}, fault(text, "below absolute zero: check the number and the unit")
	}
	step := *s
	step.zero = 0
	a.Resolution = step.si(1, num.div)
	if t.whole {
		a.Resolution = 1
	}
	return a, nil
}

// notANumber says that the text does not begin with a number at all.
const notANumber = "not a number"

// readNumber reads a sign, then a decimal, a fraction, or a whole number and a
// fraction. It is stricter than strconv.ParseFloat, which takes "NaN", "Inf",
// "1_0" and 0x1p-2. The digits are bounded, so that nothing here overflows.
func readNumber(b []byte) (n number, bad string) {
	i := 0
	neg := false
	if i < len(b) && (b[i] == '+' || b[i] == '-') {
		neg = b[i] == '-'
		i++
	}
	whole := digits(b[i:])
	i += len(whole)
	if len(whole) > 0 && i < len(b) {
		switch b[i] {
		case '/':
			n, bad = readFraction(nil, whole, b, i)
			return n.signed(neg), bad
		case ' ', '-':
			top := digits(b[i+1:])
			if at := i + 1 + len(top); len(top) > 0 && at < len(b) && b[at] == '/' {
				n, bad = readFraction(whole, top, b, at)
				return n.signed(neg), bad
			}
		}
	}
	var after []byte
	if i < len(b) && (b[i] == '.' || b[i] == ',') {
		comma := b[i] == ','
		after = digits(b[i+1:])
		i += 1 + len(after)
		if comma {
			if bad := comma3(whole, after, b[i:]); bad != "" {
				return n, bad
			}
		}
	}
	switch {
	case len(whole) == 0 && len(after) == 0:
		return n, notANumber
	case len(whole) > mostWhole:
		return n, "too many digits: nine before the point are enough"
	case len(after) > mostAfter:
		return n, "too many digits: seven after the point are enough"
	}
	n.div = 1
	for range after {
		n.div *= 10
	}
	n.m = atoi(whole)*int64(n.div) + atoi(after)
	n.end = i
	return n.signed(neg), ""
}

func (n number) signed(neg bool) number {
	if neg {
		n.m = -n.m
	}
	return n
}

// comma3 refuses a comma that may stand between thousands: to one reader
// 4,500 is four and a half, to another four thousand five hundred.
func comma3(whole, after, rest []byte) string {
	switch {
	case len(rest) > 0 && (rest[0] == ',' || rest[0] == '.'):
		return "one number with one point, please: 12345.6, without marks between thousands"
	case len(after) == 0:
		return "nothing follows the comma: write 4.5 or 45"
	case len(after) == 3 && 1 <= len(whole) && len(whole) <= 3 && atoi(whole) != 0:
		return fmt.Sprintf("the comma can be read two ways: write %s%s, or %s.%s", whole, after, whole, after)
	}
	return ""
}

// readFraction reads the denominator after b[slash].
func readFraction(whole, top []byte, b []byte, slash int) (n number, bad string) {
	bottom := digits(b[slash+1:])
	if len(bottom) == 0 {
		return n, "a fraction needs both numbers, like 7/8"
	}
	if len(whole) > 5 {
		return n, "too many digits before the fraction"
	}
	d := int64(0) // two digits and a power of two: 64 at most
	if len(bottom) <= 2 && len(top) <= 2 {
		d = atoi(bottom)
	}
	t := atoi(top[:min(len(top), 2)])
	if d < 2 || d&(d-1) != 0 || t < 1 || t >= d {
		return n, fmt.Sprintf("%s/%s is not a mark on a rule (halves to 64ths)", brief(top), brief(bottom))
	}
	n.m, n.div, n.fraction = atoi(whole)*d+t, uint64(d), true
	n.end = slash + 1 + len(bottom)
	return n, ""
}

func brief(b []byte) string {
	if len(b) > 6 {
		return string(b[:6]) + "..."
	}
	return string(b)
}

// afterNumber looks at what follows the number for the faults that deserve
// their own advice.
func afterNumber(b []byte, i int) string {
	rest := b[i:]
	if len(rest) == 0 {
		return ""
	}
	c := rest[0]
	next := byte(0)
	if len(rest) > 1 {
		next = rest[1]
	}
	spaced := c == ' '
	if spaced {
		c, rest = rest[1], rest[1:] // fold leaves no space at the end
		next = 0
		if len(rest) > 1 {
			next = rest[1]
		}
	}
	switch {
	case isDigit(c), c == '.' && isDigit(next), c == ',', c == ';':
		return "one number here, please"
	case !spaced && c == 'e' && (isDigit(next) || next == '+' || next == '-'):
		return "no powers of ten: write 1000 or 0.001"
	case !spaced && c == 'x' && i == 1 && b[0] == '0':
		return "plain digits only, like 16"
	case c == '_':
		return "no marks inside a number: write 1000"
	case (c == '-' || c == '+') && (isDigit(next) || next == '.' || next == ' '):
		return "one number, not a range"
	case c == '/' && isDigit(next):
		return "a fraction is whole numbers, like 7/8"
	}
	return ""
}

func digits(b []byte) []byte {
	n := 0
	for n < len(b) && isDigit(b[n]) {
		n++
	}
	return b[:n]
}

// atoi reads digits whose number the caller has bounded, or will refuse.
func atoi(b []byte) int64 {
	v := int64(0)
	for _, c := range b {
		v = v*10 + int64(c-'0')
	}
	return v
}
