package main

// An exit is an error that ends the program with a status of its own. Its err
// is nil where everything has been said already.
type exit struct {
	code int
	err  error
}

func (e exit) Error() string {
	if e.err == nil {
		return ""
	}
	return e.err.Error()
}

func (e exit) Unwrap() error { return e.err }

// The exit statuses other than 0, finished, and 1, failed.
const (
	exitUsage  = 2 // wrong usage
	exitStrict = 3 // calc --strict: a given limit is not met, or too close to call
)
