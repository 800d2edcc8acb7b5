package unit_test

import (
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"path/filepath"
	"strings"
	"testing"
)

const (
	brakesPath = "chock/brakes"
	unitPath   = brakesPath + "/unit"
)

type importFunc func(path string) (*types.Package, error)

func (f importFunc) Import(path string) (*types.Package, error) { return f(path) }

// Go lets Length*Length be a Length, which no length is. This test refuses
// every product and quotient of two variables of one quantity type.
func TestNoFalseDimensions(t *testing.T) {
	std, mine := importer.Default(), map[string]*types.Package{}
	find := importFunc(func(path string) (*types.Package, error) {
		if p := mine[path]; p != nil {
			return p, nil
		}
		return std.Import(path)
	})
	for _, pkg := range []struct{ dir, path string }{{".", unitPath}, {"..", brakesPath}} {
		fset := token.NewFileSet()
		names, err := filepath.Glob(filepath.Join(pkg.dir, "*.go"))
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
		if len(files) == 0 {
			continue
		}
		bad, checked, err := falseProducts(fset, pkg.path, files, find)
		if err != nil {
			t.Fatal(err)
		}
		mine[pkg.path] = checked
		for _, b := range bad {
			t.Error(b)
		}
	}
	// The guard itself: a planted product is seen, honest ones are not.
	fset := token.NewFileSet()
	f, err := parser.ParseFile(fset, "planted.go", `package planted
import "chock/brakes/unit"
func bad(a, b unit.Length) unit.Length { return a * b }
func worse(a unit.Length, b unit.Length) unit.Length { a *= b; return a }
func good(a unit.Length) float64 { return float64(2 * a / unit.Inch) }
`, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	bad, _, err := falseProducts(fset, "planted", []*ast.File{f}, find)
	if err != nil {
		t.Fatal(err)
	}
	if len(bad) != 2 {
		t.Errorf("the guard saw %d of 2 planted products: %v", len(bad), bad)
	}
}

func falseProducts(fset *token.FileSet, path string, files []*ast.File, find importFunc) (bad []string, p *types.Package, err error) {
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
	conf := types.Config{Importer: find}
	p, err = conf.Check(path, fset, files, info)
	if err != nil {
		return nil, nil, err
	}
	report := func(pos token.Pos, op token.Token, x, y ast.Expr, typ types.Type) {
		if info.Types[x].Value == nil && info.Types[y].Value == nil && isQuantity(typ) {
			bad = append(bad, fset.Position(pos).String()+": "+op.String()+" of two values of type "+typ.String())
		}
	}
	for _, f := range files {
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.BinaryExpr:
				if n.Op == token.MUL || n.Op == token.QUO {
					report(n.OpPos, n.Op, n.X, n.Y, info.Types[n].Type)
				}
			case *ast.AssignStmt:
				if n.Tok == token.MUL_ASSIGN || n.Tok == token.QUO_ASSIGN {
					report(n.TokPos, n.Tok, n.Lhs[0], n.Rhs[0], info.TypeOf(n.Lhs[0]))
				}
			}
			return true
		})
	}
	return bad, p, nil
}

func isQuantity(t types.Type) bool {
	named, ok := t.(*types.Named)
	if !ok {
		return false
	}
	basic, ok := named.Underlying().(*types.Basic)
	// A product of two ratios is a ratio.
	return ok && basic.Kind() == types.Float64 && named.Obj().Name() != "Ratio"
}
