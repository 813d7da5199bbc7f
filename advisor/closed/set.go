package closed

import (
	"encoding/json"
	"fmt"
	"slices"
)

// Names returns the names of the members of a set of bits, of which names lists
// the members. A bit without a name is an error.
func Names[S ~uint8 | ~uint16](s S, names []string) ([]string, error) {
	var list []string
	for bit := range 16 {
		switch one := S(1) << bit; {
		case s&one == 0:
		case bit >= len(names):
			return nil, fmt.Errorf("no word for %T %b", s, one)
		default:
			list = append(list, names[bit])
		}
	}
	return list, nil
}

// Set returns the set whose members a list names.
func Set[S ~uint8 | ~uint16](list, names []string) (S, error) {
	var s S
	for _, name := range list {
		bit := slices.Index(names, name)
		if bit < 0 || name == "" {
			return 0, fmt.Errorf("unknown word %q for %T", name, s)
		}
		s |= 1 << bit
	}
	return s, nil
}

// MarshalSet returns the names of the members of s as MarshalJSON does.
func MarshalSet[S ~uint8 | ~uint16](s S, names []string) ([]byte, error) {
	list, err := Names(s, names)
	if err != nil {
		return nil, err
	}
	return json.Marshal(list)
}

// UnmarshalSet sets s to what data lists as UnmarshalJSON does.
func UnmarshalSet[S ~uint8 | ~uint16](s *S, data []byte, names []string) error {
	var list []string
	if err := json.Unmarshal(data, &list); err != nil {
		return err
	}
	set, err := Set[S](list, names)
	*s = set
	return err
}
