package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"slices"
	"strings"
)

// figures are those of one package, or of all.
type figures struct {
	folder         string
	code, comments int            // lines
	constants      int            // named numbers
	decimals, bare int            // in functions, and those without a comment
	methods        map[string]int // by type
	lengths        []int          // of the functions, lines
}

// add counts another package's figures in. Types keep their package.
func (f *figures) add(other *figures) {
	f.code, f.comments = f.code+other.code, f.comments+other.comments
	f.constants, f.decimals, f.bare = f.constants+other.constants, f.decimals+other.decimals, f.bare+other.bare
	f.lengths = append(f.lengths, other.lengths...)
	if f.methods == nil {
		f.methods = map[string]int{}
	}
	for name, n := range other.methods {
		f.methods[other.folder+"."+name] = n
	}
}

// row is the package's line of the table.
func (f *figures) row() string {
	share := 100 * float64(f.comments) / float64(max(1, f.code+f.comments))
	most := 0
	for _, n := range f.methods {
		most = max(most, n)
	}
	slices.Sort(f.lengths)
	return fmt.Sprintf("%d\t%.0f %%\t%d\t%d\t%d\t%d\t%d\t%d\t%d\t  %s\t", f.code, share, f.constants, f.decimals, f.bare, most, f.of(0.5), f.of(0.9), f.of(1), f.folder)
}

// of is a quantile of the functions' lengths: the least that this share of them does not
// exceed. 0 without a function.
func (f *figures) of(share float64) int {
	if len(f.lengths) == 0 {
		return 0
	}
	return f.lengths[int(math.Ceil(share*float64(len(f.lengths))))-1]
}

// readFile counts one source file in.
func (f *figures) readFile(path string) error {
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, path, text, parser.ParseComments)
	if err != nil {
		return err
	}
	s := source{figures: f, files: files, commented: map[int]bool{}}
	s.countLines(file, strings.Split(string(text), "\n"))
	for _, d := range file.Decls {
		s.countDeclaration(d)
	}
	return nil
}

// source is one file while it is counted.
type source struct {
	*figures
	files     *token.FileSet
	commented map[int]bool // lines with a comment
}

func (s *source) line(at token.Pos) int { return s.files.Position(at).Line }

// countLines counts code and comment: a line with both is code.
func (s *source) countLines(file *ast.File, lines []string) {
	alone := map[int]bool{}
	for _, group := range file.Comments {
		for _, c := range group.List {
			for n := s.line(c.Pos()); n <= s.line(c.End()); n++ {
				s.commented[n] = true
				before := lines[n-1]
				if n == s.line(c.Pos()) {
					before = before[:s.files.Position(c.Pos()).Column-1]
				} else {
					before = ""
				}
				alone[n] = strings.TrimSpace(before) == ""
			}
		}
	}
	for i, words := range lines {
		switch {
		case alone[i+1]:
			s.comments++
		case strings.TrimSpace(words) != "":
			s.code++
		}
	}
}

// countDeclaration counts constants, and functions with what is in them.
func (s *source) countDeclaration(d ast.Decl) {
	if general, ok := d.(*ast.GenDecl); ok {
		s.countConstants(general)
		return
	}
	function := d.(*ast.FuncDecl)
	s.lengths = append(s.lengths, s.line(function.End())-s.line(function.Pos())+1)
	if function.Recv != nil {
		s.methods[typeName(function.Recv.List[0].Type)]++
	}
	if function.Body == nil {
		return
	}
	settings := givesSettings(function)
	ast.Inspect(function.Body, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GenDecl:
			s.countConstants(n)
			return n.Tok != token.CONST // a number there has its name
		case *ast.BasicLit:
			if n.Kind == token.FLOAT && n.Value != "0.0" && !settings {
				s.decimals++
				if at := s.line(n.Pos()); !s.commented[at] && !s.commented[at-1] {
					s.bare++
				}
			}
		}
		return true
	})
}

// givesSettings says whether a function is where settings have their values: all that it
// returns is a type called ...Settings or ...Options.
func givesSettings(function *ast.FuncDecl) bool {
	results := function.Type.Results
	if results == nil || len(results.List) != 1 {
		return false
	}
	name := typeName(results.List[0].Type)
	return strings.HasSuffix(name, "Settings") || strings.HasSuffix(name, "Options")
}

// countConstants counts the constants that a declaration gives a number to.
func (s *source) countConstants(d *ast.GenDecl) {
	if d.Tok != token.CONST {
		return
	}
	ast.Inspect(d, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok {
			return true
		}
		for _, value := range spec.Values {
			if hasNumber(value) {
				s.constants++
			}
		}
		return false
	})
}

// hasNumber says whether an expression has a number in it.
func hasNumber(e ast.Expr) (found bool) {
	ast.Inspect(e, func(n ast.Node) bool {
		if literal, ok := n.(*ast.BasicLit); ok {
			found = found || literal.Kind == token.INT || literal.Kind == token.FLOAT
		}
		return true
	})
	return found
}

// typeName is a type's name without pointer, package and type parameters.
func typeName(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.StarExpr:
		return typeName(e.X)
	case *ast.IndexExpr:
		return typeName(e.X)
	case *ast.IndexListExpr:
		return typeName(e.X)
	case *ast.SelectorExpr:
		return e.Sel.Name
	case *ast.Ident:
		return e.Name
	}
	return ""
}
