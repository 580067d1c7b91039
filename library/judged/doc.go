// Package judged holds what the trade expects: for a device and a few words of
// its owner, the odds of each class of cause, judged one by one from knowledge
// of the trade. It tells an appraisal what the repair records, which seldom say
// what the owner said, are too few to teach.
//
// Start at [Rows].
//
// # How the rows were made
//
// For each product category the kinds of device that are brought in most were
// written down, and for each the words that bring it in: bare ones ("does
// not work", a quarter to a third), those typical of the device, rare and telling ones. The odds
// say which class a repairer would record at the end, by the classes and
// conventions of library/records; the class shares of the category were the
// only thing looked at. No record, label or case of the test data was.
//
// # Cautions
//
// These are judgements with no source. Telling words are over-represented, so
// the mean of a category's rows is not its base rate. How much they help, and
// how many records a row counts for, is measured on real records in
// docs/appraisal.md.
package judged
