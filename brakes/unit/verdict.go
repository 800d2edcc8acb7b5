package unit

import "fmt"

// A Verdict is the outcome of holding a reading against a limit.
type Verdict int

// The zero Verdict is NoLimit, so that a verdict nobody reached never reads
// as "within".
const (
	NoLimit  Verdict = iota // no limit is known for this part
	TooClose                // the instrument cannot tell; measure again, finer
	Within
	Outside
)

var (
	verdictWords = [...]string{"no-limit", "too-close", "within", "outside"}
	verdictSay   = [...]string{"no limit known", "too close to call", "within", "outside"}
)

// String gives the word used in JSON and in records.
func (v Verdict) String() string {
	if v < 0 || int(v) >= len(verdictWords) {
		return fmt.Sprintf("verdict(%d)", int(v))
	}
	return verdictWords[v]
}

// Say gives the words for the screen.
func (v Verdict) Say() string {
	if v < 0 || int(v) >= len(verdictSay) {
		return v.String()
	}
	return verdictSay[v]
}

// MarshalText writes the word of String.
func (v Verdict) MarshalText() ([]byte, error) {
	if v < 0 || int(v) >= len(verdictWords) {
		return nil, fmt.Errorf("no verdict has the number %d", int(v))
	}
	return []byte(verdictWords[v]), nil
}

// UnmarshalText takes only the words that MarshalText writes.
func (v *Verdict) UnmarshalText(text []byte) error {
	for i, w := range verdictWords {
		if string(text) == w {
			*v = Verdict(i)
			return nil
		}
	}
	return fmt.Errorf("%s is not a verdict: want within, outside, too-close or no-limit", quote(string(text)))
}
