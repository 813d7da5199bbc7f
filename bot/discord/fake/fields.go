package fake

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
)

// strayFields returns the fields of value that no schema of list knows, which
// Discord ignores without a word: most are misspelt.
func strayFields(list []*openapi3.Schema, value any, at string) []string {
	list = flatten(list, map[*openapi3.Schema]bool{})
	var found []string
	switch v := value.(type) {
	case object:
		known, open := properties(list)
		for _, name := range slices.Sorted(maps.Keys(v)) {
			if inner, there := known[name]; there {
				found = append(found, strayFields(inner, v[name], at+"."+name)...)
			} else if !open {
				found = append(found, strings.TrimPrefix(at+"."+name, "."))
			}
		}
	case []any:
		var items []*openapi3.Schema
		for _, s := range list {
			items = appendSchema(items, s.Items)
		}
		for i, e := range v {
			found = append(found, strayFields(items, e, fmt.Sprintf("%s[%d]", at, i))...)
		}
	}
	return found
}

// flatten adds what allOf, oneOf and anyOf refer to.
func flatten(list []*openapi3.Schema, seen map[*openapi3.Schema]bool) []*openapi3.Schema {
	var all []*openapi3.Schema
	for _, s := range list {
		if seen[s] {
			continue
		}
		seen[s] = true
		var inner []*openapi3.Schema
		for _, refs := range []openapi3.SchemaRefs{s.AllOf, s.OneOf, s.AnyOf} {
			for _, ref := range refs {
				inner = appendSchema(inner, ref)
			}
		}
		all = append(append(all, s), flatten(inner, seen)...)
	}
	return all
}

func appendSchema(list []*openapi3.Schema, ref *openapi3.SchemaRef) []*openapi3.Schema {
	if ref == nil || ref.Value == nil {
		return list
	}
	return append(list, ref.Value)
}

// properties returns what the schemas know by name; open says that one of
// them takes any name, or that none describes an object.
func properties(list []*openapi3.Schema) (known map[string][]*openapi3.Schema, open bool) {
	known = map[string][]*openapi3.Schema{}
	for _, s := range list {
		for name, ref := range s.Properties {
			known[name] = appendSchema(known[name], ref)
		}
		open = open || s.AdditionalProperties.Schema != nil || s.AdditionalProperties.Has != nil && *s.AdditionalProperties.Has
	}
	return known, open || len(known) == 0
}
