package say

import (
	"embed"
	"fmt"
	"path"
	"sync"

	"go.yaml.in/yaml/v3"
	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/message/catalog"
)

// catalogues are the sentences in the other languages, a file each: the English
// sentence, and what is said for it.
//
//go:embed catalogue/*.yaml
var catalogues embed.FS

// A spoken is one language, read from its catalogue.
type spoken struct {
	printer   *message.Printer
	sentences map[English]string // as the catalogue has them; of a plural, its form for many
}

// shipped are all languages but English, by their codes. Each is read when it is
// first spoken, which takes some milliseconds: most bars speak one.
//
//nolint:gochecknoglobals // the embedded files, parsed once: a constant in all but form
var shipped = sync.OnceValue(func() map[string]func() spoken {
	all := map[string]func() spoken{}
	for _, code := range Languages()[1:] {
		all[code] = sync.OnceValue(func() spoken {
			text, err := catalogues.ReadFile(path.Join("catalogue", code+".yaml"))
			if err != nil {
				panic(err) // a test reads the files
			}
			c, err := readCatalogue(code, text)
			if err != nil {
				panic(fmt.Errorf("%s: %w", code, err))
			}
			return c
		})
	}
	return all
})

// An entry is a sentence, or its forms by number: one, other, as the Unicode
// CLDR names them.
type entry struct {
	text  string
	forms map[string]string
}

// UnmarshalYAML reads either.
func (e *entry) UnmarshalYAML(n *yaml.Node) error {
	if n.Kind == yaml.MappingNode {
		return n.Decode(&e.forms)
	}
	return n.Decode(&e.text)
}

// readCatalogue reads one.
func readCatalogue(code string, text []byte) (spoken, error) {
	tag, err := language.Parse(code)
	if err != nil {
		return spoken{}, err
	}
	entries := map[English]entry{}
	if err := yaml.Unmarshal(text, &entries); err != nil {
		return spoken{}, err
	}
	b := catalog.NewBuilder()
	sentences := map[English]string{}
	for key, e := range entries {
		sentences[key] = e.text
		if e.forms == nil {
			err = b.SetString(tag, string(key), e.text)
		} else {
			sentences[key] = e.forms["other"]
			err = b.Set(tag, string(key), e.message())
		}
		if err != nil {
			return spoken{}, fmt.Errorf("%q: %w", key, err)
		}
	}
	return spoken{message.NewPrinter(tag, message.Catalog(b)), sentences}, nil
}

// message chooses the form by the first value.
func (e entry) message() catalog.Message {
	var cases []any
	for _, form := range []string{"zero", "one", "two", "few", "many", "other"} { // other goes last
		if text, ok := e.forms[form]; ok {
			cases = append(cases, form, text)
		}
	}
	return plural.Selectf(1, "%d", cases...)
}
