package ask

// An Answer is one entry of an answers file, its values as they were written.
type Answer struct {
	Text []string          // one text, or a list of them
	At   map[string]Answer // by wheel, or by input of a measurement
}

// A Script answers from a file.
type Script struct{}

// NewScript answers from the entries given. What they lack is a [*Missing]
// error or, with restUnsure, "not sure".
func NewScript(answers map[string]Answer, restUnsure bool, out *Screen) *Script { return &Script{} }

// Choose takes the file's answer.
func (s *Script) Choose(q Question) (Reply, error) { return Reply{}, nil }

// Line takes the file's text or readings; a list is joined by "; ".
func (s *Script) Line(f Field) (Reply, error) { return Reply{}, nil }

// Unused names the entries that were never asked for, sorted; an entry of
// which one wheel or input was not asked is named with it.
func (s *Script) Unused() []string { return nil }
