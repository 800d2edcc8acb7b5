package brakes

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var mutate = flag.String("mutate", "", "change each constant of the files that match this pattern by 1 %: go test ./brakes -run TestMutations -mutate '*.go' -timeout 1h -v")

// A mutant is one number of the package.
type mutant struct {
	file     string
	line     int
	from, to int // of the number in its file
	text     string
	typ      string // its type, as the package would write it
	figure   string // the figure that it is the value of, if any
	constant bool   // no call may stand in its place
}

func (m mutant) String() string { return fmt.Sprintf("%s:%d: %s %s", m.file, m.line, m.figure, m.text) }

// roundingRoom begins the numbers that only leave room for rounding: a change
// of 1 % changes nothing there.
const roundingRoom = "1e-"

// mutants are the numbers of the package that are quantities: float64
// underneath, and not 0.
func mutants(t *testing.T, pattern string) []mutant {
	t.Helper()
	fset := token.NewFileSet()
	names, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(fset, name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, f)
	}
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
	conf := types.Config{Importer: importer.ForCompiler(fset, "source", nil)}
	pkg, err := conf.Check("chock/brakes", fset, files, info)
	if err != nil {
		t.Fatal(err)
	}
	var out []mutant
	for _, f := range files {
		name := fset.Position(f.Pos()).Filename
		if ok, err := filepath.Match(pattern, name); err != nil || !ok {
			if err != nil {
				t.Fatal(err)
			}
			continue
		}
		figure := ""
		var consts []ast.Node
		room := map[ast.Node]bool{} // 1 of 1 + 1e-9
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.GenDecl:
				if n.Tok == token.CONST {
					consts = append(consts, n)
				}
			case *ast.BinaryExpr:
				if y, ok := n.Y.(*ast.BasicLit); ok && strings.HasPrefix(y.Value, roundingRoom) {
					room[n.X] = true
				}
			case *ast.FuncDecl:
				figure = n.Name.Name
			case *ast.ValueSpec:
				figure = n.Names[0].Name
			}
			lit, ok := n.(*ast.BasicLit)
			if !ok || lit.Kind != token.INT && lit.Kind != token.FLOAT || strings.HasPrefix(lit.Value, roundingRoom) || room[lit] {
				return true
			}
			tv := info.Types[lit]
			basic, ok := tv.Type.Underlying().(*types.Basic)
			if !ok || basic.Info()&types.IsFloat == 0 || tv.Value == nil || constant.Sign(tv.Value) == 0 {
				return true
			}
			pos := fset.Position(lit.Pos())
			out = append(out, mutant{file: name, line: pos.Line, from: pos.Offset, to: pos.Offset + len(lit.Value), text: lit.Value, figure: figure,
				typ: types.TypeString(tv.Type, func(p *types.Package) string {
					if p == pkg {
						return ""
					}
					return p.Name()
				}),
				constant: basic.Info()&types.IsUntyped != 0 || slices.ContainsFunc(consts, func(c ast.Node) bool { return c.Pos() <= lit.Pos() && lit.Pos() < c.End() })})
			return true
		})
	}
	return out
}

// overlay writes the files of the package anew and tells go how to use them.
func overlay(t *testing.T, dir string, files map[string][]byte) string {
	t.Helper()
	here, err := filepath.Abs(".")
	if err != nil {
		t.Fatal(err)
	}
	replace := map[string]string{}
	for name, text := range files {
		changed := filepath.Join(dir, name)
		if err := os.WriteFile(changed, text, 0o600); err != nil {
			t.Fatal(err)
		}
		replace[filepath.Join(here, name)] = changed
	}
	text, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		t.Fatal(err)
	}
	list := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(list, text, 0o600); err != nil {
		t.Fatal(err)
	}
	return list
}

// build makes a test of the package as the overlay has it.
func build(t *testing.T, list, binary string) {
	t.Helper()
	if out, err := exec.Command("go", "test", "-vet=off", "-c", "-o", binary, "-overlay", list, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
}

// dies reports whether a test fails, with mutant k changed.
func dies(t *testing.T, binary string, k int) (dead bool, said string) {
	t.Helper()
	// The lists first: they notice most, in no time.
	for _, some := range []string{"^(TestFiguresAreHeld|TestPublished)$", "."} {
		cmd := exec.Command(binary, "-test.failfast", "-rapid.nofailfile", "-rapid.seed=3", "-test.run", some)
		cmd.Env = append(os.Environ(), fmt.Sprintf("BRAKES_MUTANT=%d", k))
		out, err := cmd.CombinedOutput()
		var exit *exec.ExitError
		if err != nil && !errors.As(err, &exit) {
			t.Fatalf("%v: %s", err, out)
		}
		if err != nil {
			return true, string(out)
		}
	}
	return false, ""
}

// What a change of 1 % of each constant does, one at a time: a test of this
// package fails, or the constant is named. Numbers outside const declarations
// are changed in one program, which asks each time which of them is the one.
func TestMutations(t *testing.T) {
	if *mutate == "" {
		t.Skip("-mutate is not given")
	}
	all := mutants(t, *mutate)
	dir := t.TempDir()
	files := map[string][]byte{"mutant.go": []byte(`package brakes

import (
	"os"
	"strconv"
)

var mutated, _ = strconv.Atoi(os.Getenv("BRAKES_MUTANT"))

func mutant_[Q ~float64](k int, q Q) Q {
	if k == mutated {
		return Q(float64(q) * 1.01)
	}
	return q
}
`)}
	read := func(file string) []byte {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	for k, m := range slices.Backward(all) { // from the end, so that places stay
		if m.constant {
			continue
		}
		if files[m.file] == nil {
			files[m.file] = read(m.file)
		}
		text := files[m.file]
		files[m.file] = slices.Concat(text[:m.from], fmt.Appendf(nil, "mutant_[%s](%d, %s)", m.typ, k+1, m.text), text[m.to:])
	}
	one := filepath.Join(dir, "one.test")
	build(t, overlay(t, dir, files), one)
	if dead, said := dies(t, one, 0); dead {
		t.Fatalf("a test fails with nothing changed: %s", said)
	}
	survived := 0
	try := func(k int, m mutant) {
		killed := false
		if m.constant {
			text := read(m.file)
			changed := t.TempDir()
			text = slices.Concat(text[:m.from], []byte("("+m.text+" * 1.01)"), text[m.to:])
			binary := filepath.Join(changed, "one.test")
			build(t, overlay(t, changed, map[string][]byte{m.file: text}), binary)
			killed, _ = dies(t, binary, 0)
		} else {
			killed, _ = dies(t, one, k+1)
		}
		if !killed {
			survived++
			t.Log("not noticed: " + m.String())
		}
	}
	for _, slow := range []bool{false, true} {
		for k, m := range all {
			if m.constant == slow {
				try(k, m)
			}
		}
	}
	t.Logf("%d constants changed, %d not noticed", len(all), survived)
}
