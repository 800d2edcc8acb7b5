package report

// A Plot is a drawing of readings.
type Plot struct {
	Title string // what it shows, for those who see it
	Say   string // the same in words, for those who hear it
}
