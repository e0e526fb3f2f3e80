// Package report puts a batch on paper: the record sheet for the binder and the
// labels for the bottles, as PDF with the fonts inside.
//
// A sheet has one page, or two for a long batch. What does not fit on two is left
// out in the middle of the longest lists, which say how many lines are missing.
// The same batch, picture and instant give the same bytes.
//
// Files:
//   - sheet.go: Sheet, which puts identity, picture and lists on the pages
//   - lists.go: the lists: readings, doings, additions, tasting notes
//   - fit.go: how many lines of each list two pages hold
//   - page.go: paper, fonts, a line of text that never leaves its column
//   - labels.go: LabelText and the printable sheet of labels
//   - figures.go: how quantities and dates are printed
//
// Nothing here reads a clock; a nil zone is UTC. Quantities are
// printed as the household reads them (see Figures).
package report
