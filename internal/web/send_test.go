package web_test

import (
	"bytes"
	"mime/multipart"
	"net/http"
)

// sendFile sends a form with a file, and other fields by name and value, as a browser does.
func (v *visitor) sendFile(path, field, name string, file []byte, fields ...string) *sheet {
	v.t.Helper()
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	for i := 0; i < len(fields); i += 2 {
		if err := m.WriteField(fields[i], fields[i+1]); err != nil {
			v.t.Fatal(err)
		}
	}
	w, err := m.CreateFormFile(field, name)
	if err == nil {
		_, err = w.Write(file)
	}
	if err == nil {
		err = m.Close()
	}
	if err != nil {
		v.t.Fatal(err)
	}
	req, err := http.NewRequestWithContext(v.t.Context(), http.MethodPost, v.url+path, &body)
	if err != nil {
		v.t.Fatal(err)
	}
	req.Header.Set("Content-Type", m.FormDataContentType())
	return v.send(req)
}
