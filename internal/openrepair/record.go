package openrepair

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// Status is how a repair attempt ended.
type Status string

const (
	Unknown    Status = "Unknown"
	Fixed      Status = "Fixed"
	Repairable Status = "Repairable"
	EndOfLife  Status = "End of life"
)

// statuses in the order of their codes.
var statuses = []Status{Unknown, Fixed, Repairable, EndOfLife}

// barriers in the order of their codes, from 1.
var barriers = []string{"Spare parts not available", "Spare parts too expensive", "No way to open product", "Repair information not available", "Lack of equipment", "Item too worn out"}

// Other spellings of barriers: the text of the standard, and a release's table schema.
var barrierSpellings = map[string]string{
	"no way to open the product": "No way to open product", "product too worn out": "Item too worn out", "too worn out": "Item too worn out",
}

// categories in the order of their numbers, from 1.
var categories = []string{
	"Aircon/dehumidifier", "Battery/charger/adapter", "Decorative or safety lights", "Desktop computer", "Digital compact camera",
	"DSLR/video camera", "Fan", "Flat screen", "Hair & beauty item", "Handheld entertainment device", "Headphones", "Hi-Fi integrated",
	"Hi-Fi separates", "Kettle", "Lamp", "Laptop", "Large home electrical", "Misc", "Mobile", "Musical instrument", "Paper shredder",
	"PC accessory", "Portable radio", "Power tool", "Printer/scanner", "Projector", "Sewing machine", "Small home electrical",
	"Small kitchen item", "Tablet", "Toaster", "Toy", "TV and gaming-related accessories", "Vacuum", "Watch/clock", "Coffee maker",
	"Food processor", "Games console", "Hair dryer", "Iron",
}

// Barriers returns all barriers.
func Barriers() []string { return slices.Clone(barriers) }

// Categories returns all product categories, by number from 1.
func Categories() []string { return slices.Clone(categories) }

// A Record is one repair attempt. What is not known is empty or 0; Age is a
// pointer because a device can be 0 years old.
type Record struct {
	ID              string   `json:"id"`
	Provider        string   `json:"data_provider,omitempty"`
	Country         string   `json:"country,omitempty"`
	PartnerCategory string   `json:"partner_product_category,omitempty"`
	Category        string   `json:"product_category"`
	Brand           string   `json:"brand,omitempty"`
	Year            int      `json:"year_of_manufacture,omitempty"`
	Age             *float64 `json:"product_age,omitempty"`
	Status          Status   `json:"repair_status"`
	Barrier         string   `json:"repair_barrier_if_end_of_life,omitempty"`
	Group           string   `json:"group_identifier,omitempty"`
	Date            string   `json:"event_date,omitempty"` // YYYY-MM-DD
	Problem         string   `json:"problem,omitempty"`
}

// CategoryID is the number of the record's category, 0 for none known.
func (r Record) CategoryID() int { return 1 + slices.Index(categories, r.Category) }

var countryCode = regexp.MustCompile(`^[A-Z]{3}$`)

const mostText = 20_000

// Check says what of a record does not fit the standard; the text is for the user.
func (r Record) Check() error {
	for name, text := range map[string]string{"id": r.ID, "data_provider": r.Provider, "partner_product_category": r.PartnerCategory, "brand": r.Brand,
		"group_identifier": r.Group, "problem": r.Problem} {
		if len(text) > mostText || !utf8.ValidString(text) || strings.ContainsRune(text, 0) {
			return fmt.Errorf("%s is no text of at most %d bytes", name, mostText)
		}
	}
	switch {
	case strings.TrimSpace(r.ID) == "":
		return fmt.Errorf("there is no id: each record needs one of its own")
	case r.Country != "" && !countryCode.MatchString(r.Country):
		return fmt.Errorf("%q is no country: give the three letters of ISO 3166-1 alpha-3, such as GBR", clip(r.Country))
	case !slices.Contains(categories, r.Category):
		return fmt.Errorf("%q is no product category of the standard; Misc is for what fits no other", clip(r.Category))
	case r.Year != 0 && (r.Year < 1800 || r.Year > 2200):
		return fmt.Errorf("%d is no year of manufacture", r.Year)
	case r.Age != nil && !(*r.Age >= 0 && *r.Age <= 300):
		return fmt.Errorf("%v is no age in years", *r.Age)
	case !slices.Contains(statuses, r.Status):
		return fmt.Errorf("%q is no repair status: Fixed, Repairable, End of life or Unknown", clip(string(r.Status)))
	case r.Barrier != "" && !slices.Contains(barriers, r.Barrier):
		return fmt.Errorf("%q is no repair barrier: %s", clip(r.Barrier), strings.Join(barriers, ", "))
	case r.Barrier != "" && r.Status != EndOfLife:
		return fmt.Errorf("a repair barrier goes with End of life only, not with %s", r.Status)
	}
	if r.Date == "" {
		return nil
	}
	if t, err := time.Parse(time.DateOnly, r.Date); err != nil || t.Year() < 1900 || t.Year() > 2200 {
		return fmt.Errorf("%q is no date: write it as 2024-03-09", clip(r.Date))
	}
	return nil
}

func clip(s string) string {
	r := []rune(strings.ToValidUTF8(s, "?"))
	if len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return string(r)
}
