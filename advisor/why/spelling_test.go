package why_test

import (
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"testing"
)

// A reason, an event or a kind of post that is misspelt, or given as text, does
// not build.
func TestMisspeltDoesNotBuild(t *testing.T) {
	fset := token.NewFileSet()
	from := importer.ForCompiler(fset, "source", nil)
	for expr, builds := range map[string]bool{
		"why.Reason(0)":                  true,
		"why.UnderExtracted":             true,
		"why.UnderExtractde":             false,
		`why.Fast == "fast"`:             false,
		"bar.NewBag":                     true,
		"bar.NewBga":                     false,
		`bar.NewBag.About() == "coffee"`: false,
		"chat.Question":                  true,
		"chat.Qestion":                   false,
		`chat.Question == "question"`:    false,
	} {
		pkg := map[byte]string{'w': "advisor/why", 'b': "advisor/bar", 'c': "bot/chat"}[expr[0]]
		file, err := parser.ParseFile(fset, "x.go", "package x\nimport \"shothand/"+pkg+"\"\nvar _ = "+expr, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		_, err = (&types.Config{Importer: from}).Check("x", fset, []*ast.File{file}, nil)
		if (err == nil) != builds {
			t.Errorf("%s builds: %v, want %v (%v)", expr, err == nil, builds, err)
		}
	}
}
