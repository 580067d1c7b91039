package report

import (
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
)

//go:embed page.html
var pageText string

var page = template.Must(template.New("page").Funcs(template.FuncMap{
	"data": func(p Picture) template.URL {
		return template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(p.JPEG))
	},
}).Parse(pageText))

// HTML writes the story as a web page in one file.
func (s *Story) HTML(w io.Writer) error {
	if err := page.Execute(w, s); err != nil {
		return fmt.Errorf("writing the page: %w", err)
	}
	return nil
}
