// Package closed tells the values of a closed set apart by their names. Each set
// has one list of names, indexed by value; an empty name is none.
package closed

import (
	"fmt"
	"slices"
)

// Name returns the name of v, empty where it has none.
func Name[T ~int](v T, names []string) string {
	if v < 0 || int(v) >= len(names) {
		return ""
	}
	return names[v]
}

// Marshal returns the name of v as MarshalText does. A value without a name is
// refused.
func Marshal[T ~int](v T, names []string) ([]byte, error) {
	name := Name(v, names)
	if name == "" {
		return nil, fmt.Errorf("no word for %T %d", v, int(v))
	}
	return []byte(name), nil
}

// Unmarshal sets v to the value of that name as UnmarshalText does.
func Unmarshal[T ~int](v *T, text []byte, names []string) error {
	n := slices.Index(names, string(text))
	if n < 0 || len(text) == 0 {
		return fmt.Errorf("unknown word %q for %T", text, *v)
	}
	*v = T(n)
	return nil
}
