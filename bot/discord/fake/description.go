package fake

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/gorillamux"
)

// A Description is Discord's published description of its REST calls
// (openapi.json of github.com/discord/discord-api-spec). One may serve any
// number of fakes.
type Description struct {
	router  routers.Router
	options *openapi3filter.Options
}

// LoadDescription reads the description from a file.
func LoadDescription(file string) (*Description, error) {
	loader := openapi3.NewLoader()
	doc, err := loader.LoadFromFile(file)
	if err != nil {
		return nil, fmt.Errorf("the description of REST: %w", err)
	}
	relax(doc)
	router, err := gorillamux.NewRouter(doc)
	if err != nil {
		return nil, fmt.Errorf("the description of REST: %w", err)
	}
	return &Description{router: router, options: &openapi3filter.Options{
		AuthenticationFunc:    openapi3filter.NoopAuthenticationFunc,
		IncludeResponseStatus: true,
		SkipSettingDefaults:   true,
	}}, nil
}

// relax mends what the description gets wrong: permissions are sent as text.
func relax(doc *openapi3.T) {
	for _, ref := range doc.Components.Schemas {
		if p := ref.Value.Properties["default_member_permissions"]; p != nil {
			ref.Value.Properties["default_member_permissions"] = openapi3.NewSchemaRef("", openapi3.NewSchema())
		}
	}
}

// A judgement is what the description says of a request.
type judgement struct {
	why    string   // what is wrong; "" if nothing is
	strays []string // fields that nobody knows
}

// judge takes a while, and so is not done under the lock. A nil Description
// finds nothing wrong.
func (d *Description) judge(c *call) judgement {
	if d == nil {
		return judgement{}
	}
	return judgement{why: d.request(c), strays: d.unknownFields(c)}
}

// request returns what is wrong with a call, or "".
func (d *Description) request(c *call) string {
	input, why := d.input(c)
	if input == nil {
		return why
	}
	return brief(openapi3filter.ValidateRequest(context.Background(), input))
}

// undescribed are calls of API version 9 that the description, of version 10, lacks.
func undescribed(c *call) bool {
	return strings.HasSuffix(c.path, "/threads/active") && strings.HasPrefix(c.path, "/channels/")
}

// input puts a call as one to Discord itself, its body always as JSON. It is
// nil, with the reason, if there is no such call.
func (d *Description) input(c *call) (*openapi3filter.RequestValidationInput, string) {
	if undescribed(c) {
		return nil, ""
	}
	address := "https://discord.com/api/v10" + c.raw.URL.EscapedPath()
	if c.raw.URL.RawQuery != "" {
		address += "?" + c.raw.URL.RawQuery
	}
	r, err := http.NewRequestWithContext(context.Background(), c.method, address, bytes.NewReader(c.body))
	if err != nil {
		return nil, err.Error()
	}
	if len(c.body) > 0 {
		r.Header.Set("Content-Type", "application/json")
	}
	route, parameters, err := d.router.FindRoute(r)
	if err != nil {
		return nil, "no such call: " + err.Error()
	}
	return &openapi3filter.RequestValidationInput{Request: r, PathParams: parameters, Route: route, Options: d.options}, ""
}

// response returns what is wrong with the fake's own answer, or "".
func (d *Description) response(c *call, a answer) string {
	input, _ := d.input(c)
	if input == nil {
		return ""
	}
	body := []byte{}
	header := http.Header{}
	if a.body != nil {
		body = mustMarshal(withoutPlanted(a.body))
		header.Set("Content-Type", "application/json")
	}
	return brief(openapi3filter.ValidateResponse(context.Background(), &openapi3filter.ResponseValidationInput{
		RequestValidationInput: input, Status: a.status, Header: header, Body: io.NopCloser(bytes.NewReader(body)), Options: d.options,
	}))
}

// withoutPlanted returns an answer without the components that nobody knows,
// which a test has put in on purpose. The rest is held to the description.
func withoutPlanted(body any) any {
	var value any
	if json.Unmarshal(mustMarshal(body), &value) != nil {
		return body
	}
	return prune(value)
}

func prune(value any) any {
	switch v := value.(type) {
	case map[string]any:
		for key := range v {
			v[key] = prune(v[key])
		}
	case []any:
		v = slices.DeleteFunc(v, planted)
		for i := range v {
			v[i] = prune(v[i])
		}
		return v
	}
	return value
}

// planted reports whether value is an unknownComponent.
func planted(value any) bool {
	o, ok := value.(map[string]any)
	return ok && o["type"] == float64(unknownType)
}

// unknownFields returns the fields of a call's body that its schema does not name.
func (d *Description) unknownFields(c *call) []string {
	input, _ := d.input(c)
	if input == nil || len(c.body) == 0 || input.Route.Operation.RequestBody == nil {
		return nil
	}
	media := input.Route.Operation.RequestBody.Value.Content.Get("application/json")
	var value any
	if media == nil || media.Schema == nil || json.Unmarshal(c.body, &value) != nil {
		return nil
	}
	return slices.DeleteFunc(strayFields(appendSchema(nil, media.Schema), value, ""), harmless)
}

// harmless are fields that the client library sends beside what Discord
// knows, and that Discord ignores.
func harmless(field string) bool {
	return field == "ID" || field == "Channel" || field == "invitable"
}

// brief is the first line of an error, which says what and where.
func brief(err error) string {
	if err == nil {
		return ""
	}
	lines := strings.Split(err.Error(), "\n")
	for i, l := range lines {
		if i > 0 && strings.HasPrefix(l, "Error at") {
			return lines[0] + " " + l
		}
	}
	return lines[0]
}
