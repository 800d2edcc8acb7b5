package report

import (
	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/record"
)

// What stands on the page when a record has none of its own; an older one, or
// one that was stopped early.
const (
	standingCaution = "Level ground, a chock at a wheel that stays down, stands under the frame, and time for hot parts to cool."
	standingVerify  = "Have a qualified technician verify these findings and any repair before the vehicle is relied on."
)

func cautions(rec *record.Record) []string {
	if len(rec.Caution) == 0 {
		return []string{standingCaution}
	}
	return rec.Caution
}

func verify(rec *record.Record) string {
	if rec.Verify == "" {
		return standingVerify
	}
	return rec.Verify
}

// Text prints the final page.
func Text(scr *ask.Screen, rec *record.Record) error {
	return scr.Err()
}
