package brakes

import (
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"chock/brakes/unit"
)

// Every figure written down in this package is listed, so that chock sources
// shows it.
func TestFiguresAreListed(t *testing.T) {
	listed := map[string]bool{}
	for _, f := range Figures() {
		if listed[f.Name] {
			t.Errorf("%s is listed twice", f.Name)
		}
		listed[f.Name] = true
		switch f.Mark {
		case Published, Practice, Memory, Estimate:
		default:
			t.Errorf("%s has mark %q", f.Name, f.Mark)
		}
		if f.Source == "" || f.Scope == "" {
			t.Errorf("%s lacks its source or scope", f.Name)
		}
	}
	names, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	fset := token.NewFileSet()
	written := 0
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(fset, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		named := map[ast.Node]string{}
		for _, decl := range file.Decls {
			g, ok := decl.(*ast.GenDecl)
			if !ok || g.Tok != token.VAR {
				continue
			}
			for _, s := range g.Specs {
				v := s.(*ast.ValueSpec)
				for i, x := range v.Values {
					named[x] = v.Names[i].Name
				}
			}
		}
		ast.Inspect(file, func(n ast.Node) bool {
			lit, ok := n.(*ast.CompositeLit)
			if !ok {
				return true
			}
			index, ok := lit.Type.(*ast.IndexExpr)
			if !ok {
				return true
			}
			if id, ok := index.X.(*ast.Ident); !ok || id.Name != "Figure" {
				return true
			}
			written++
			if name := named[lit]; !listed[name] {
				t.Errorf("%s: the figure %q is not in Figures()", fset.Position(lit.Pos()), name)
			}
			return true
		})
	}
	rows := figuresIn(t)
	if written+rows != len(listed) {
		t.Errorf("%d figures are written down, %d more in tables of rules, %d listed", written, rows, len(listed))
	}
}

// figuresIn counts the figures that stand in tables of rules. A lag has a name
// of its own, and a rule that takes its figure from another table does not
// count it again.
func figuresIn(t *testing.T) int {
	t.Helper()
	type known interface{ Known() bool }
	seen := map[string]bool{}
	for _, table := range []any{DistanceTests(), StopRules(), ForceRules(), ParkRules(), Fluids(), HeatSigns()} {
		rows := reflect.ValueOf(table)
		for i := range rows.Len() {
			r := rows.Index(i)
			for j := range r.NumField() {
				if f, ok := r.Field(j).Interface().(known); ok && f.Known() && r.Type().Field(j).Name != "Lag" {
					seen[fmt.Sprintf("%v %v %v", r.FieldByName("ID"), r.Type().Field(j).Name, f)] = true
				}
			}
		}
	}
	// Stop and Emergency of a force rule are the Most of two stop rules.
	n := len(seen)
	for range ForceRules() {
		n -= 2
	}
	return n
}

// What was chosen, against the range it was chosen from.
func TestFigures(t *testing.T) {
	const (
		published = "limits in makers' service information, 1988 to 2010: variation mostly 0.0005 in, loosest 0.001; runout 0.003 integral and 0.005 separate on full-size trucks; drums 0.002 to 0.006 in"
		ours      = "our choice, written down in the figure"
	)
	want := map[string]struct{ thou, source string }{
		"VariationGood": {"0.50", published}, "VariationBad": {"1.00", published},
		"RunoutGood": {"3.0", published}, "RunoutBad": {"5.0", published},
		"DrumRoundGood": {"2.0", published}, "DrumRoundBad": {"6.0", published},
		// 1.5 mm, 2 and 3 mm.
		"LiningLeast":   {"59.06", "UK MOT inspection manual, section 1.1.13: less than 1.5 mm is dangerous"},
		"PadsApartGood": {"78.74", "trade article on uneven pad wear: within 2 to 3 mm of each other"}, "PadsApartBad": {"118.11", "the same"},
		"BoresApart": {"15.625", ours}, "RuleScatter": {"11.81", ours}, "RuleMark": {"62.50", ours},
		"MicrometerScatter": {"0.10", ours}, "DialScatter": {"0.20", ours}, "DrumGaugeScatter": {"0.50", ours},
	}
	for _, f := range Figures() {
		w, ok := want[f.Name]
		if !ok {
			continue
		}
		got, _ := f.Value.In("thou")
		near(t, f.Name, got, w.thou, w.source)
		delete(want, f.Name)
	}
	if len(want) > 0 {
		t.Errorf("not listed: %v", want)
	}
}

func BenchmarkRotor(b *testing.B) {
	for b.Loop() {
		if _, err := ReadThickness(turnV2); err != nil {
			b.Fatal(err)
		}
		if _, err := ReadRunout(turnV1); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkIndex(b *testing.B) {
	for b.Loop() {
		if _, err := SeparateHub(turnV4, movedV, 5, 2, um(5)); err != nil {
			b.Fatal(err)
		}
	}
}

var writeFigures = flag.Bool("figures", false, "write testdata/figures.txt anew; read every line that changed against its document")

// plainest writes a figure in the unit that takes the fewest digits: 40 kgf, not
// 392.266 N.
func plainest(a unit.Any) string {
	best := ""
	for _, u := range append(unit.Units(a.Kind), "") {
		v, ok := a.In(u)
		if !ok {
			continue
		}
		text := strings.TrimSpace(strconv.FormatFloat(v, 'g', 12, 64) + " " + u)
		if best == "" || len(text) < len(best) {
			best = text
		}
	}
	return best
}

// Every figure is what it was when somebody last held it against its document:
// testdata/figures.txt has them in the units of those, apart from the code.
func TestFiguresAreHeld(t *testing.T) {
	const file = "../testdata/figures.txt"
	var lines []string
	for _, f := range Figures() {
		lines = append(lines, fmt.Sprintf("%s = %s, %s", f.Name, plainest(f.Value), f.Mark))
	}
	got := "# Every figure of package brakes, as its document or our judgement has it. Held\n# against the code by TestFiguresAreHeld.\n" + strings.Join(lines, "\n") + "\n"
	if *writeFigures {
		if err := os.WriteFile(file, []byte(got), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if string(text) == got {
		return
	}
	want := map[string]bool{}
	for l := range strings.Lines(string(text)) {
		want[strings.TrimSpace(l)] = true
	}
	for _, l := range lines {
		if !want[l] {
			t.Errorf("%s does not have %q", file, l)
		}
		delete(want, l)
	}
	for l := range want {
		if !strings.HasPrefix(l, "#") {
			t.Errorf("%s has %q, which is no figure now", file, l)
		}
	}
}
