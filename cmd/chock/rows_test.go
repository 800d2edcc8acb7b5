package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/tree"
)

// rowGroups are the rows of our collection of published troubleshooting
// tables that the trees answer, by group, with the number of rows:
//
//	PUL pulsation   VIB vibration   PLB pulls when braking   PLN pulls without
//	DST dust        FLU fluid       SNK sinking pedal        DRG drag
//	LOW low pedal   SPG springy     HRD hard pedal           RET slow to return
//	GRB grabbing    FAD fade
//	NOI noise       CHT chatter     LMP lamps       PRK parking brake
//
// Each group has its file in testdata/rows: `ROW cause ...  # in own words`,
// `ROW -  # question.answer` for what is no fault, or `ROW later  # why` for what
// belongs to a complaint that the book does not have yet.
var rowGroups = map[string]int{
	"PUL": 18, "VIB": 8, "PLB": 14, "PLN": 4, "DST": 6, "FLU": 15, "SNK": 7,
	// the pedal
	"LOW": 12, "SPG": 12, "HRD": 16, "RET": 5,

	// drag, grabbing, fade
	"DRG": 19, "GRB": 6, "FAD": 6,

	// noise, chatter, lamps, parking brake
	"NOI": 8, "CHT": 7, "LMP": 6, "PRK": 8,
}

// rowsLater may wait: what holds on at all wheels is the drag complaint's.
var rowsLater = []string{}

var asksFor = regexp.MustCompile(`\b[a-z][a-z0-9]*(?:-[a-z0-9]+)*\.[a-z][a-z0-9]*(?:-[a-z0-9]+)*\b`)

// TestRows: each published row leads to causes that a talk can come to, with a
// check before anything is replaced.
func TestRows(t *testing.T) {
	b := loadBook(t)
	shown, behind := map[string]bool{}, map[string]bool{}
	for _, l := range b.Listing() {
		for _, a := range l.Check.Answers {
			for _, id := range a.Shows {
				shown[id] = true
			}
		}
	}
	for _, c := range b.Complaints {
		for end, looks := range looksBefore(b, c) {
			for _, id := range slices.Concat(end.Likely, end.Possible) {
				behind[id] = behind[id] || looks
			}
		}
	}
	for group, n := range rowGroups {
		data, err := os.ReadFile(filepath.Join(root, "testdata", "rows", group+".txt"))
		if !assert.NoError(t, err) {
			continue
		}
		rows := map[string]bool{}
		for i, line := range strings.Split(strings.TrimSpace(string(data)), "\n") {
			at := fmt.Sprintf("testdata/rows/%s.txt:%d", group, i+1)
			if strings.HasPrefix(line, "#") || line == "" {
				continue
			}
			words, own, _ := strings.Cut(line, "#")
			fields := strings.Fields(words)
			if !assert.GreaterOrEqual(t, len(fields), 2, "%s: a row and its causes, or -", at) {
				continue
			}
			number, err := strconv.Atoi(strings.TrimPrefix(fields[0], group+"-"))
			assert.True(t, err == nil && number >= 1 && number <= n && fields[0] == fmt.Sprintf("%s-%02d", group, number), "%s: no row %s", at, fields[0])
			assert.False(t, rows[fields[0]], "%s: %s twice", at, fields[0])
			rows[fields[0]] = true
			assert.NotEmpty(t, strings.TrimSpace(own), "%s: say in own words how it is found", at)
			named := asksFor.FindAllString(own, -1)
			for _, name := range named {
				id, answer, _ := strings.Cut(name, ".")
				assert.True(t, b.Checks[id] != nil && b.Checks[id].Answer(answer) != nil, "%s: nothing is asked with the answer %s", at, name)
			}
			if fields[1] == "later" {
				assert.Contains(t, rowsLater, fields[0], "%s: nobody said that %s may wait", at, fields[0])
				continue
			}
			if fields[1] == "-" {
				assert.True(t, len(fields) == 2 && len(named) > 0, "%s: no fault: name the answer that covers it, as question.answer", at)
				continue
			}
			for _, id := range fields[1:] {
				if assert.NotNil(t, b.Cause(id), "%s: no cause %s", at, id) {
					assert.True(t, shown[id] || behind[id], "%s: nothing is looked at before %s is named", at, id)
				}
			}
		}
		for i := range n {
			id := fmt.Sprintf("%s-%02d", group, i+1)
			assert.True(t, rows[id], "testdata/rows/%s.txt has no row %s", group, id)
		}
	}
	files, err := filepath.Glob(filepath.Join(root, "testdata", "rows", "*"))
	require.NoError(t, err)
	for _, path := range files {
		group := strings.TrimSuffix(filepath.Base(path), ".txt")
		assert.Contains(t, rowGroups, group, "%s belongs to no group", path)
	}
}

// looksBefore gives each end of a tree, and whether every way to it comes past
// a check that is more than memory.
func looksBefore(b *tree.Book, c *tree.Complaint) map[*tree.End]bool {
	steps := map[string]*tree.Step{}
	for _, s := range c.Steps {
		steps[s.ID] = s
	}
	ends := map[*tree.End]bool{}
	seen := map[string]bool{}
	var follow func(id string, looked bool)
	follow = func(id string, looked bool) {
		if seen[fmt.Sprint(id, looked)] {
			return
		}
		seen[fmt.Sprint(id, looked)] = true
		s := steps[id]
		looked = looked || b.Checks[s.Check].Place != tree.Recall
		for _, to := range s.Then {
			if to.End == nil {
				follow(to.Step, looked)
			} else if was, known := ends[to.End]; !known || was {
				ends[to.End] = looked
			}
		}
	}
	follow(c.Begin, false)
	return ends
}
