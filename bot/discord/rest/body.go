package rest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"mime/multipart"
	"net/textproto"
	"strings"

	"shothand/bot/chat"
)

// encode returns the body of a call, and its type: JSON, or a form with the
// files if there are any.
func encode(body any, files []chat.File) (data []byte, kind string, err error) {
	if body == nil {
		return nil, "", nil
	}
	if data, err = json.Marshal(body); err != nil || len(files) == 0 {
		return data, "application/json", err
	}
	var b bytes.Buffer
	form := multipart.NewWriter(&b)
	if err := part(form, `form-data; name="payload_json"`, "application/json", data); err != nil {
		return nil, "", err
	}
	for i, f := range files {
		head := fmt.Sprintf(`form-data; name="files[%d]"; filename="%s"`, i, FileName(f.Name))
		if err := part(form, head, "application/octet-stream", f.Data); err != nil {
			return nil, "", err
		}
	}
	err = form.Close()
	return b.Bytes(), form.FormDataContentType(), err
}

func part(form *multipart.Writer, head, kind string, data []byte) error {
	h := textproto.MIMEHeader{"Content-Disposition": {head}, "Content-Type": {kind}}
	w, err := form.CreatePart(h)
	if err != nil {
		return err
	}
	_, err = w.Write(data)
	return err
}

// FileName keeps of a name what every server takes.
func FileName(s string) string {
	return strings.Map(func(r rune) rune {
		if 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9' || r == '.' || r == '-' || r == '_' {
			return r
		}
		return '-'
	}, s)
}
