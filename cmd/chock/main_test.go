package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"gopkg.in/yaml.v3"

	"chock/cmd/chock/internal/record"
)

// TestMain lets the scripts, and the tests in a pseudo-terminal, start this
// test binary again under the name chock: it is then the real main.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"chock": main})
}

// TestScripts talks whole conversations. Next to what testscript brings, a
// script may use
//
//	answers OUT CHANGES    writes OUT, the answers of sound.yaml with CHANGES over them; a key with ~ is left out
//	backdate RECORD            the record becomes one of two years ago
//	document [stopped] DRIVE   the last output is one JSON document, whole, and advises DRIVE
//	[!] finding CAUSE STANDING [WHEEL...]   ! CAUSE alone: nothing speaks for it
//	[!] unchecked ID [WHEEL]   listed as not checked
//	answered ID WHEEL ANSWER   WHEEL is - where there is none
//	verdict CHECK WHEEL OF VERDICT
//	result CHECK WHEEL KEY NUMBER
//	[!] same A B           two records, apart from their times
//	keep FILE              copies FILE to FILE.kept, for cmp
//	shorten FILE N         cuts the last N bytes off
//	fill OUT SKELETON ANSWERS   writes OUT, the SKELETON of chock sheet with ANSWERS in the place of unsure
//	status N ARGUMENTS     runs chock, which must end with exit status N
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/scripts",
		RequireExplicitExec: false,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("XDG_DATA_HOME", filepath.Join(env.WorkDir, "data"))
			env.Setenv("LC_ALL", "C.UTF-8")
			sound, err := os.ReadFile("../../testdata/scripts/sound.yaml")
			if err != nil {
				return err
			}
			if err := os.CopyFS(filepath.Join(env.WorkDir, "demo"), os.DirFS("demo")); err != nil {
				return err
			}
			return os.WriteFile(filepath.Join(env.WorkDir, "sound.yaml"), sound, 0o600)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"answers":   answersCmd,
			"document":  documentCmd,
			"finding":   findingCmd,
			"unchecked": uncheckedCmd,
			"answered":  answeredCmd,
			"verdict":   verdictCmd,
			"result":    resultCmd,
			"same":      sameCmd,
			"backdate":  backdateCmd,
			"keep":      keepCmd,
			"shorten":   shortenCmd,
			"fill":      fillCmd,
			"status":    statusCmd,
		},
	})
}

// A talkDocument is the output of talk --json as far as scripts look at it.
type talkDocument struct {
	Finished   bool
	Complaints []string
	Asked      []struct {
		ID     string
		Wheel  *string
		Answer any
		Text   string
	}
	Measurements []struct {
		ID       string
		Wheel    *string
		Readings []struct {
			Input, Typed, Unit string
			Value              float64
		}
		Results  map[string]any
		Outcomes []string
		Verdicts []struct {
			Of, Verdict        string
			Value, Limit       *float64
			Unit, Mark, Source string
		}
	}
	Findings []struct {
		Cause, Standing, Say string
		Wheels               []string
		Caution, Verify      *string
	}
	NotChecked []struct {
		Kind, ID string
		Wheel    *string
	} `json:"not_checked"`
	Drive           string
	Caution, Verify string
}

// talkKeys are those that design and docs promise; more are welcome.
var talkKeys = []string{"schema_version", "finished", "complaints", "asked", "measurements", "findings", "not_explained",
	"drive", "not_checked", "caution", "verify", "warnings", "sources"}

// listKeys are those of each entry of its lists.
var listKeys = map[string][]string{
	"asked":         {"id", "wheel", "answer", "text"},
	"measurements":  {"id", "wheel", "calculation", "readings", "results", "outcomes", "verdicts"},
	"findings":      {"cause", "say", "standing", "wheels", "for", "against", "drive", "do", "caution", "verify"},
	"not_explained": {"id"},
	"not_checked":   {"kind", "id", "say"},
}

// readTalk takes text as exactly one JSON document with every promised key.
func readTalk(text string) (*talkDocument, error) {
	dec := json.NewDecoder(strings.NewReader(text))
	var whole map[string]json.RawMessage
	if err := dec.Decode(&whole); err != nil {
		return nil, fmt.Errorf("no JSON document: %w", err)
	}
	if _, err := dec.Token(); err != io.EOF {
		return nil, fmt.Errorf("something stands behind the JSON document")
	}
	for _, k := range talkKeys {
		switch raw, ok := whole[k]; {
		case !ok:
			return nil, fmt.Errorf("no key %q", k)
		case string(raw) == "null":
			return nil, fmt.Errorf("%q is null", k)
		}
	}
	for list, keys := range listKeys {
		var entries []map[string]json.RawMessage
		if err := json.Unmarshal(whole[list], &entries); err != nil {
			return nil, fmt.Errorf("%s: %w", list, err)
		}
		for i, e := range entries {
			for _, k := range keys {
				if _, ok := e[k]; !ok {
					return nil, fmt.Errorf("%s[%d] has no key %q", list, i, k)
				}
			}
		}
	}
	d := new(talkDocument)
	if err := json.Unmarshal([]byte(text), d); err != nil {
		return nil, err
	}
	if d.Caution == "" || d.Verify == "" {
		return nil, fmt.Errorf("caution or verify is empty")
	}
	if !strings.Contains(d.Verify, "qualified technician") {
		return nil, fmt.Errorf("verify names no qualified technician: %q", d.Verify)
	}
	if !slices.Contains([]string{"go", "care", "stop"}, d.Drive) {
		return nil, fmt.Errorf("drive is %q", d.Drive)
	}
	for _, m := range d.Measurements {
		for _, r := range m.Readings {
			// A count has no unit, nor has a ratio.
			if r.Typed == "" || r.Unit == "" && r.Value != math.Trunc(r.Value) && !strings.HasSuffix(r.Input, "-ratio") {
				return nil, fmt.Errorf("%s: reading %+v", m.ID, r)
			}
		}
		for _, v := range m.Verdicts {
			switch {
			case !slices.Contains([]string{"within", "outside", "too-close", "no-limit"}, v.Verdict):
				return nil, fmt.Errorf("%s: verdict %q", m.ID, v.Verdict)
			case v.Verdict != "no-limit" && (v.Value == nil || v.Limit == nil || v.Unit == "" || v.Mark == ""):
				return nil, fmt.Errorf("%s: %s lacks its value, limit, unit or mark", m.ID, v.Of)
			}
		}
	}
	for _, f := range d.Findings {
		if !slices.Contains([]string{"found", "mended", "likely", "possible", "unlikely"}, f.Standing) {
			return nil, fmt.Errorf("%s is %q", f.Cause, f.Standing)
		}
		if f.Standing != "unlikely" && (f.Caution == nil || f.Verify == nil) {
			return nil, fmt.Errorf("finding %s has no caution or verify", f.Cause)
		}
	}
	return d, nil
}

func lastTalk(ts *testscript.TestScript) *talkDocument {
	d, err := readTalk(ts.ReadFile("stdout"))
	ts.Check(err)
	return d
}

func documentCmd(ts *testscript.TestScript, neg bool, args []string) {
	d := lastTalk(ts)
	finished := true
	if len(args) > 0 && args[0] == "stopped" {
		finished, args = false, args[1:]
	}
	if neg || len(args) != 1 {
		ts.Fatalf("usage: document [stopped] DRIVE")
	}
	if d.Finished != finished {
		ts.Fatalf("finished is %v", d.Finished)
	}
	if d.Drive != args[0] {
		ts.Fatalf("drive is %s, not %s", d.Drive, args[0])
	}
}

func findingCmd(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) == 0 || !neg && len(args) < 2 {
		ts.Fatalf("usage: [!] finding CAUSE STANDING [WHEEL...]")
	}
	have := "not listed"
	match := false
	for _, f := range lastTalk(ts).Findings {
		if f.Cause != args[0] {
			continue
		}
		have = fmt.Sprintf("%s at %q", f.Standing, f.Wheels)
		switch {
		case len(args) == 1:
			match = f.Standing != "unlikely"
		case len(args) == 2:
			match = f.Standing == args[1]
		default:
			match = f.Standing == args[1] && slices.Equal(f.Wheels, args[2:])
		}
	}
	if match == neg {
		ts.Fatalf("%s is %s", args[0], have)
	}
}

func uncheckedCmd(ts *testscript.TestScript, neg bool, args []string) {
	match := false
	for _, u := range lastTalk(ts).NotChecked {
		match = match || u.ID == args[0] && (len(args) == 1 || u.Wheel != nil && *u.Wheel == args[1])
	}
	if match == neg {
		ts.Fatalf("%s under not_checked: %v", args[0], match)
	}
}

func at(wheel *string) string {
	if wheel == nil {
		return "-"
	}
	return *wheel
}

func answeredCmd(ts *testscript.TestScript, neg bool, args []string) {
	have := "not asked"
	for _, a := range lastTalk(ts).Asked {
		if a.ID == args[0] && at(a.Wheel) == args[1] {
			have = fmt.Sprint(a.Answer)
			if a.Text == "" {
				ts.Fatalf("%s has no text", a.ID)
			}
		}
	}
	if (have == args[2]) == neg {
		ts.Fatalf("%s at %s: %s", args[0], args[1], have)
	}
}

func verdictCmd(ts *testscript.TestScript, neg bool, args []string) {
	var have []string
	for _, m := range lastTalk(ts).Measurements {
		if m.ID == args[0] && at(m.Wheel) == args[1] {
			for _, v := range m.Verdicts {
				have = append(have, v.Of+" "+v.Verdict)
			}
		}
	}
	if slices.Contains(have, args[2]+" "+args[3]) == neg {
		ts.Fatalf("%s at %s: %q", args[0], args[1], have)
	}
}

func resultCmd(ts *testscript.TestScript, neg bool, args []string) {
	want, err := strconv.ParseFloat(args[3], 64)
	ts.Check(err)
	have := math.NaN()
	for _, m := range lastTalk(ts).Measurements {
		if v, ok := m.Results[args[2]].(float64); ok && m.ID == args[0] && at(m.Wheel) == args[1] {
			have = v
		}
	}
	if close := math.Abs(have-want) < 5e-5; close == neg {
		ts.Fatalf("%s at %s: %s is %v", args[0], args[1], args[2], have)
	}
}

func answersCmd(ts *testscript.TestScript, neg bool, args []string) {
	all := map[string]yaml.Node{}
	for _, name := range []string{"sound.yaml", args[1]} {
		over := map[string]yaml.Node{}
		ts.Check(yaml.Unmarshal([]byte(ts.ReadFile(name)), &over))
		for k, v := range over {
			if all[k] = v; v.Tag == "!!null" {
				delete(all, k)
			}
		}
	}
	data, err := yaml.Marshal(all)
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), data, 0o600))
}

// backdateCmd makes a record one of two years ago: two made in one script may
// be of the same second.
func backdateCmd(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: backdate RECORD")
	}
	lines := strings.Split(ts.ReadFile(args[0]), "\n")
	for i, l := range lines {
		for _, key := range []string{"started: ", "saved: "} {
			if strings.HasPrefix(l, key) {
				lines[i] = key + "2024-05-01T08:00:00Z"
			}
		}
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Join(lines, "\n")), 0o600))
}

// sameCmd compares two records without the lines that tell the time.
func sameCmd(ts *testscript.TestScript, neg bool, args []string) {
	a, b := timeless(ts.ReadFile(args[0])), timeless(ts.ReadFile(args[1]))
	if (a == b) == neg {
		ts.Fatalf("%s\nand\n%s", a, b)
	}
}

func timeless(record string) string {
	lines := slices.DeleteFunc(strings.Split(record, "\n"), func(l string) bool {
		return strings.HasPrefix(l, "started:") || strings.HasPrefix(l, "saved:")
	})
	return strings.Join(lines, "\n")
}

func keepCmd(ts *testscript.TestScript, neg bool, args []string) {
	data := ts.ReadFile(args[0])
	ts.Check(os.WriteFile(ts.MkAbs(args[0]+".kept"), []byte(data), 0o600))
}

// shortenCmd cuts the last N bytes off a file.
func shortenCmd(ts *testscript.TestScript, neg bool, args []string) {
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	data := ts.ReadFile(args[0])
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(data[:len(data)-n]), 0o600))
}

// fillCmd does what a person does with a skeleton: line by line, puts an answer
// where unsure stands. What the file does not ask is left out.
func fillCmd(ts *testscript.TestScript, neg bool, args []string) {
	answers, err := record.LoadAnswers(ts.MkAbs(args[2]))
	ts.Check(err)
	var path []string
	lines := strings.Split(ts.ReadFile(args[1]), "\n")
	for i, line := range lines {
		bare := strings.TrimLeft(line, " ")
		key, value, ok := strings.Cut(bare, ":")
		if !ok || bare[0] == '#' {
			continue
		}
		path = append(path[:(len(line)-len(bare))/2], key)
		if value != " unsure" {
			continue
		}
		a := answers.Entries[path[0]]
		for _, name := range path[1:] {
			if part, ok := a.At[name]; ok {
				a = part
			}
		}
		if a.Text == nil {
			continue
		}
		var quoted []string
		for _, t := range a.Text {
			quoted = append(quoted, strconv.Quote(t))
		}
		lines[i] = strings.TrimSuffix(line, "unsure") + "[" + strings.Join(quoted, ", ") + "]"
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Join(lines, "\n")), 0o600))
}

// statusCmd runs chock with the arguments after the exit status it must have.
func statusCmd(ts *testscript.TestScript, neg bool, args []string) {
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	have := 0
	if err := ts.Exec("chock", args[1:]...); err != nil {
		have = -1
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			have = exit.ExitCode()
		}
	}
	if have != want {
		ts.Fatalf("exit status %d, not %d", have, want)
	}
}
