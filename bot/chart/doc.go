// Package chart draws what a hydrometer told about a batch: gravity at 20 °C
// over the days, as a picture for a phone or in plain characters for a terminal.
//
// A picture is 720 by 480 pixels in greys alone, so that it loses nothing on a
// black and white printer or to a colour-blind eye. It shows one batch with all
// that happened to it, or several years of a wine side by side by the day since
// the yeast went in; then each has a dash and a ring of its own and its name at
// the end of its curve, and doings and temperatures are left out.
//
// Files:
//   - chart.go: the types, and PNG, which puts a picture together
//   - curve.go: a batch's state made into points on days
//   - scale.go: the ends of both axes and where their figures stand
//   - frame.go: pixels, pens, letters, axes
//   - rings.go: readings, their error bars, dashes
//   - names.go: names at the ends of curves laid side by side
//   - band.go: the forecast's hatched band
//   - words.go: doings as words on stalks, laid so that none covers another
//   - rows.go: dates and temperatures below the axis
//   - text.go: the curve in characters
//
// Nothing here reads a clock; a nil zone is UTC.
package chart
