package closed

import (
	"cmp"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

type colour int

const (
	red colour = iota + 1
	blue
)

func colours() []string { return []string{red: "red", blue: "blue"} }

// A value has a name and comes back from it; all else is refused.
func TestNames(t *testing.T) {
	for _, c := range []colour{red, blue} {
		text, err := Marshal(c, colours())
		var got colour
		if err2 := Unmarshal(&got, text, colours()); err != nil || err2 != nil || got != c || Name(c, colours()) != string(text) {
			t.Errorf("%d: %q, %v, %v, %d", c, text, err, err2, got)
		}
	}
	for _, c := range []colour{-1, 0, 3} {
		if text, err := Marshal(c, colours()); err == nil || Name(c, colours()) != "" {
			t.Errorf("%d is called %q", c, text)
		}
	}
	for _, text := range []string{"", "green", "RED"} {
		var got colour
		if err := Unmarshal(&got, []byte(text), colours()); err == nil {
			t.Errorf("%q is %d", text, got)
		}
	}
}

// The same for sets of bits.
func TestSets(t *testing.T) {
	names := []string{"red", "blue", "green"}
	for s := range uint8(8) {
		data, err := MarshalSet(s, names)
		var got uint8
		if err2 := UnmarshalSet(&got, data, names); err != nil || err2 != nil || got != s {
			t.Errorf("%b: %s, %v, %v, %b", s, data, err, err2, got)
		}
	}
	if data, err := MarshalSet(uint8(8), names); err == nil {
		t.Errorf("a member without a name is called %s", data)
	}
	for _, data := range []string{`["red","pink"]`, `[""]`, `"red"`, `[1]`} {
		var got uint8
		if err := UnmarshalSet(&got, []byte(data), names); err == nil {
			t.Errorf("%s is %b", data, got)
		}
	}
}

// Every constant of a closed set has a name, and no two have the same.
func TestEveryConstantHasAName(t *testing.T) {
	sets := 0
	for _, dir := range []string{"..", "../bar", "../../store", "../../bot/chat"} {
		consts, lists := read(t, dir)
		for of, list := range lists {
			sets++
			var named, keys []string
			for key, name := range list {
				keys, named = append(keys, key), append(named, name)
			}
			if !slices.Equal(slices.Sorted(slices.Values(consts[of])), slices.Sorted(slices.Values(keys))) {
				t.Errorf("%s of %s: constants %v, names for %v", of, dir, consts[of], keys)
			}
			slices.Sort(named)
			if len(slices.Compact(named)) != len(keys) || named[0] == `""` {
				t.Errorf("%s of %s: %v", of, dir, list)
			}
		}
	}
	if sets < 19 {
		t.Errorf("%d sets found", sets)
	}
}

// read returns the constants of each type of a package and, for each type that
// Marshal is called for, the list of its names.
func read(t *testing.T, dir string) (consts map[string][]string, lists map[string]map[string]string) {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	consts, lists = map[string][]string{}, map[string]map[string]string{}
	literals, listOf := map[string]map[string]string{}, map[string]string{}
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			switch d := d.(type) {
			case *ast.GenDecl:
				addConsts(consts, d)
			case *ast.FuncDecl:
				addNames(literals, listOf, d)
			}
		}
	}
	for of, f := range listOf {
		if !strings.HasSuffix(of, "Names") {
			lists[of] = literals[cmp.Or(listOf[f], f)]
		}
	}
	return consts, lists
}

func addConsts(consts map[string][]string, d *ast.GenDecl) {
	of := ""
	for _, spec := range d.Specs {
		v, ok := spec.(*ast.ValueSpec)
		if !ok || d.Tok != token.CONST {
			return
		}
		if id, ok := v.Type.(*ast.Ident); ok {
			of = id.Name
		} else if len(v.Values) > 0 {
			of = ""
		}
		for _, name := range v.Names {
			if name.Name != "_" {
				consts[of] = append(consts[of], name.Name)
			}
		}
	}
}

// addNames adds the list that a function returns, or which function's list a
// method MarshalText uses.
func addNames(literals map[string]map[string]string, listOf map[string]string, d *ast.FuncDecl) {
	ast.Inspect(d, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CompositeLit:
			list := map[string]string{}
			for _, e := range n.Elts {
				if kv, ok := e.(*ast.KeyValueExpr); ok {
					key, _ := kv.Key.(*ast.Ident)
					value := kv.Value
					if row, ok := value.(*ast.CompositeLit); ok && len(row.Elts) > 0 { // the name comes first
						value = row.Elts[0]
					}
					if name, _ := value.(*ast.BasicLit); key != nil && name != nil {
						list[key.Name] = name.Value
					}
				}
			}
			if d.Recv == nil && len(list) > 0 {
				literals[d.Name.Name] = list
			}
			return len(list) == 0
		case *ast.CallExpr:
			if f, ok := n.Fun.(*ast.Ident); ok && f.Name != "append" && d.Recv == nil && strings.HasSuffix(d.Name.Name, "Names") {
				listOf[d.Name.Name] = f.Name // of a table
			}
			if d.Recv != nil && d.Name.Name == "MarshalText" && len(n.Args) == 2 {
				of, _ := d.Recv.List[0].Type.(*ast.Ident)
				call, _ := n.Args[1].(*ast.CallExpr)
				if of != nil && call != nil {
					listOf[of.Name] = call.Fun.(*ast.Ident).Name
				}
			}
		}
		return true
	})
}
