package brakes

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"strings"
	"testing"
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
	notTest := func(i fs.FileInfo) bool { return !strings.HasSuffix(i.Name(), "_test.go") }
	fset := token.NewFileSet()
	pkgs, err := parser.ParseDir(fset, ".", notTest, 0)
	if err != nil {
		t.Fatal(err)
	}
	written := 0
	for _, file := range pkgs["brakes"].Files {
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
	if written != len(listed) {
		t.Errorf("%d figures are written down, %d listed", written, len(listed))
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
