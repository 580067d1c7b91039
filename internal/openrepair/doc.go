// Package openrepair reads and writes repair records in the Open Repair Data
// Standard (ORDS), version 0.3, as CSV. Start at Write and Read.
//
// # The form
//
// One row per repair attempt, with a head row of field names, UTF-8, in the
// order in which the aggregate releases have them:
//
//	id                             unique with the provider
//	data_provider                  name of the organisation that contributes
//	country                        three letters of ISO 3166-1 alpha-3
//	partner_product_category       the provider's own words for the product
//	product_category               one of Categories
//	product_category_id            its number, 1 to 40
//	brand                          free
//	year_of_manufacture            four digits
//	product_age                    years, whole or not
//	repair_status                  Fixed, Repairable, End of life or Unknown
//	repair_barrier_if_end_of_life  one of Barriers
//	group_identifier               the group that did it
//	event_date                     YYYY-MM-DD
//	problem                        free, without personal data
//
// # What is taken when reading
//
// Fields are found by their names in the head row, in any order; others are passed
// over. Codes stand for the texts of status (0 to 3) and barrier (1 to 6), as the
// standard allows; spellings of the barriers in the text of the standard and in
// older releases are understood. An empty or zero status is Unknown. "Unknown" as a
// brand is none. A ' before text that a spreadsheet would take for a formula is taken
// away (package cell). A row that makes no sense is left out and reported by its line; a file that ends in the middle of a row is refused whole.
//
// # Ranges and failure
//
// Year 1800 to 2200, age 0 to 300 years, date 1900 to 2200, text at most 20,000
// bytes a field. Write refuses what Read would not take. Nothing panics on input.
//
// # Cost
//
// Linear in the size of the file.
//
// # References
//
//   - Open Repair Alliance, Open Repair Data Standard v0.3, 7 December 2021,
//     standard.openrepair.org: field reference, codelists. CC BY-SA 4.0.
//   - Open Repair Alliance, table schema of the aggregate release 2025-07
//     (tableschema.json): order of the fields, patterns, the name product_age.
package openrepair
