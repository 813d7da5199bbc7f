package say

import (
	"embed"
	"fmt"
	"path"
	"strings"
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

//nolint:gochecknoglobals // the embedded files, parsed once: a constant in all but form
var shipped = sync.OnceValue(func() map[string]spoken {
	all, err := readCatalogues()
	if err != nil {
		panic(err) // a test reads the files
	}
	return all
})

// readCatalogues reads all there are, by their language.
func readCatalogues() (map[string]spoken, error) {
	files, err := catalogues.ReadDir("catalogue")
	if err != nil {
		return nil, err
	}
	all := map[string]spoken{}
	for _, f := range files {
		code := strings.TrimSuffix(f.Name(), ".yaml")
		text, err := catalogues.ReadFile(path.Join("catalogue", f.Name()))
		if err != nil {
			return nil, err
		}
		if all[code], err = readCatalogue(code, text); err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name(), err)
		}
	}
	return all, nil
}

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
