package loopback

import (
	"bytes"
	"encoding/json"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"net/url"
	"strconv"
	"strings"
)

// params are the fields of a request and the files uploaded with it.
type params struct {
	fields map[string]string
	files  map[string][]byte
}

// readParams takes query, urlencoded, multipart and JSON, as the platform does.
// An empty multipart body is a call without parameters.
func readParams(r *http.Request) (params, error) {
	p := params{fields: map[string]string{}, files: map[string][]byte{}}
	body := bytes.NewBuffer(make([]byte, 0, max(0, r.ContentLength)+bytes.MinRead))
	if _, err := body.ReadFrom(r.Body); err != nil {
		return p, err
	}
	take := func(vs url.Values) {
		for k := range vs {
			p.fields[k] = vs.Get(k)
		}
	}
	take(r.URL.Query())
	kind, attrs, _ := mime.ParseMediaType(r.Header.Get("Content-Type"))
	switch {
	case body.Len() == 0:
	case kind == "application/json":
		p.readJSON(body.Bytes())
	case kind == "multipart/form-data":
		return p, p.readMultipart(body.Bytes(), attrs["boundary"])
	default:
		if vs, err := url.ParseQuery(body.String()); err == nil {
			take(vs)
		}
	}
	return p, nil
}

// readJSON keeps strings as they are and everything else as its JSON, as if it had
// come in a form.
func (p params) readJSON(body []byte) {
	var fields map[string]json.RawMessage
	if json.Unmarshal(body, &fields) != nil {
		return
	}
	for k, v := range fields {
		text := string(v)
		if v[0] == '"' {
			json.Unmarshal(v, &text)
		}
		p.fields[k] = text
	}
}

// readMultipart is what the library sends.
func (p params) readMultipart(body []byte, boundary string) error {
	form, err := multipart.NewReader(bytes.NewReader(body), boundary).ReadForm(64 << 20)
	if err != nil {
		return err
	}
	defer form.RemoveAll()
	for k, v := range form.Value {
		p.fields[k] = v[0]
	}
	for k, fs := range form.File {
		f, err := fs[0].Open()
		if err != nil {
			return err
		}
		data, err := io.ReadAll(f)
		f.Close()
		if err != nil {
			return err
		}
		p.files[k] = data
	}
	return nil
}

// str gives "" for what did not come.
func (p params) str(key string) string { return p.fields[key] }

// has tells "" from what did not come.
func (p params) has(key string) bool { _, has := p.fields[key]; return has }

// int gives 0 for what is not a number.
func (p params) int(key string) int64 {
	n, _ := strconv.ParseInt(strings.TrimSpace(p.fields[key]), 10, 64)
	return n
}

// bool takes what the documentation allows in a form.
func (p params) bool(key string) bool { v := p.fields[key]; return v == "true" || v == "1" }
