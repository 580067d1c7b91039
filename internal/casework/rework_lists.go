package casework

import "fettler/internal/rework"

// The lists of package rework, for a form.

// A ReworkFamily is packages that come off and go on the same way.
type ReworkFamily struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	About string `json:"about"`
}

// ReworkFamilies returns the families, easiest first.
func ReworkFamilies() []ReworkFamily {
	var out []ReworkFamily
	for _, f := range rework.Families() {
		out = append(out, ReworkFamily{f.ID, f.Title, f.About})
	}
	return out
}

// A PolarSort is a sort of polarised part and the mark to look for on it.
type PolarSort struct {
	Sort string `json:"sort"`
	Mark string `json:"mark"`
}

// PolarSorts returns the sorts.
func PolarSorts() []PolarSort {
	var out []PolarSort
	for _, r := range rework.Sorts() {
		out = append(out, PolarSort{r.Sort, r.Mark})
	}
	return out
}

// Directions returns the directions a mark can point, clockwise from up.
func Directions() []string { return directionNames() }

// Mirrored is a direction seen through the board.
func Mirrored(points string) string { return string(rework.Direction(points).Mirrored()) }

// Turned is a direction on a picture turned clockwise by so many degrees.
func Turned(points string, degrees int) string {
	return string(rework.Direction(points).Turned(degrees))
}

// Degrees is a direction clockwise from up; false for none.
func Degrees(points string) (float64, bool) {
	d := rework.Direction(points)
	return d.Angle(), d.Known()
}
