package say

import (
	"go/ast"
	"go/constant"
	"go/types"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/tools/go/packages"

	"shothand/advisor/taste"
	"shothand/bot/command"
)

// Every sentence there is has an entry in every catalogue, and every entry is of
// a sentence there is: one whose English was changed is stale, and fails.
func TestCatalogues(t *testing.T) {
	want := master(t)
	for _, code := range Languages()[1:] {
		c := shipped()[code]()
		for _, e := range slices.Sorted(maps.Keys(want)) {
			if text, ok := c.sentences[e]; !ok || text == "" {
				t.Errorf("%s lacks %q", code, e)
			} else if problem := agrees(e, text); problem != "" {
				t.Errorf("%s: %q is said as %q: %s", code, e, text, problem)
			}
		}
		for _, e := range slices.Sorted(maps.Keys(c.sentences)) {
			if !want[e] {
				t.Errorf("%s has %q, which is said no more", code, e)
			}
		}
	}
}

// master finds every sentence: the constants of type English and Thing, what
// commands and options do, the words of taste, and what a mistake says would do.
func master(t *testing.T) map[English]bool {
	t.Helper()
	all := map[English]bool{}
	add := func(e English) { all[e] = true }
	pkgs, err := packages.Load(&packages.Config{Mode: packages.LoadSyntax, Dir: ".."}, "./...")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pkgs {
		noWords(t, p)
		for expr, at := range p.TypesInfo.Types {
			if _, written := expr.(*ast.BasicLit); !written && !joined(expr) || at.Value == nil || at.Value.Kind() != constant.String {
				continue // the name of one that is declared elsewhere
			}
			text := constant.StringVal(at.Value)
			switch named, _ := at.Type.(*types.Named); {
			case text == "" || named == nil || named.Obj().Pkg() == nil:
			case named.Obj().Name() == "Would" && worded(text) && !part(p, expr):
				add(English(text))
			case named.Obj().Pkg().Name() != "say":
			case named.Obj().Name() == "English" && !part(p, expr):
				add(English(text))
			case named.Obj().Name() == "Thing":
				add(Thing(text).many())
			}
		}
	}
	for _, c := range command.All() {
		add(English(c.Help))
		for _, o := range c.Options {
			add(English(o.Help))
			for _, choice := range o.Choices {
				add(Choice(choice))
			}
		}
	}
	for _, e := range taste.Default().Entries() {
		add(tasted(e.Term))
	}
	return all
}

// joined reports whether an expression puts strings together.
func joined(e ast.Expr) bool {
	_, yes := e.(*ast.BinaryExpr)
	return yes
}

// part reports whether a constant is only a piece of one: a prefix of keys.
func part(p *packages.Package, e ast.Expr) bool {
	text := constant.StringVal(p.TypesInfo.Types[e].Value)
	return text == "taste|" || text == "choice|" || text == "%d " || text == "s" || text == "there is "
}

// worded reports whether a text has words of a language: "0–10 s" has none.
func worded(text string) bool { return regexp.MustCompile(`\pL{2,}.* |^\pL{2,}$`).MatchString(text) }

// noWords refuses a mistake that has words where no catalogue would find them.
func noWords(t *testing.T, p *packages.Package) {
	t.Helper()
	for _, f := range p.Syntax {
		ast.Inspect(f, func(n ast.Node) bool {
			if x, ok := n.(*ast.KeyValueExpr); ok {
				name, _ := x.Key.(*ast.Ident)
				value := p.TypesInfo.Types[x.Value].Value
				field := p.TypesInfo.Uses[name]
				if field != nil && field.Name() == "More" && field.Pkg().Name() == "parse" && value != nil && value.Kind() == constant.String && worded(constant.StringVal(value)) {
					t.Errorf("%s: %s are words: they belong in Would", p.Fset.Position(x.Pos()), value)
				}
			}
			return true
		})
	}
}

// agrees says what is wrong with the verbs of a translation: each value is said
// as often as in English, and no other.
func agrees(e English, text string) string {
	if got, want := verbs(text), verbs(string(e)); !slices.Equal(got, want) {
		return "it has the values " + strings.Join(got, " ") + " for " + strings.Join(want, " ")
	}
	return ""
}

// verbs are the values of a sentence, each by its place and verb, and each once.
func verbs(text string) []string {
	var all []string
	next := 1
	for _, m := range regexp.MustCompile(`%(\[(\d)\])?([sd%])`).FindAllStringSubmatch(text, -1) {
		switch {
		case m[3] == "%":
			continue
		case m[2] != "":
			next = int(m[2][0] - '0')
		}
		all = append(all, strconv.Itoa(next)+m[3])
		next++
	}
	slices.Sort(all)
	return slices.Compact(all)
}
