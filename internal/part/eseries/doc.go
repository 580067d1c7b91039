// Package eseries holds the preferred values of IEC 60063:2015: the series E3,
// E6, E12, E24 (two digits), E48, E96, E192 (three digits).
//
// A series repeats in every decade. The smaller series are every second value
// of the next larger one within each family; the families themselves do not
// contain each other (27 is in E24, but E96 has 267 and 274). The three-digit
// values are round(100·10^(i/n)) with one exception, 920 in E192; the two-digit
// values depart from that rule at several places and are a table.
//
// Values are positive and finite; anything else is in no series.
//
// References: IEC 60063:2015, tables 1 to 3.
package eseries
