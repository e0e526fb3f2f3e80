package chart

import (
	"math"
	"strings"
	"unicode/utf8"
)

// Bounds of a curve in characters: the narrowest that holds anything, and the
// widest that a message shows without folding.
const (
	narrowest = 20
	widest    = 41
	mostRows  = 13
	gutter    = 6 // "1.090" and the axis
)

// signs are the marks of the curves in characters.
const signs = "ox+*"

// Text draws one batch's curve in characters, or up to four side by side: lines for
// the names, at most 13 for the curves, each a round gravity, two for the dates or
// days; "o" is a reading ("x", "+", "*" those of the others), ":" a line between two
// of a lone curve, "-" 1.000. Width is in characters and is brought within 20 to 41.
// Batches without a reading that counts give one line that says so.
func Text(s []Series, look Look, width int) []string {
	width = min(max(width, narrowest), widest)
	p, err := plan(s, look)
	if err != nil {
		return []string{clip("No gravity to draw yet", width)}
	}
	g := newGrid(width-gutter, p)
	g.row(1, '-')
	if p.single() {
		for i := 0; i < len(g.cells[0]); i++ {
			if sg, ok := p.curves[0].at(g.day(i)); ok {
				g.set(i, sg, ':')
			}
		}
	}
	for i, c := range p.curves {
		for _, q := range c.points {
			g.set(g.column(q.day), q.sg, rune(signs[i]))
		}
	}
	out := p.legend(width)
	for _, l := range g.lines() {
		out = append(out, p.look.decimal(l[:gutter])+l[gutter:])
	}
	return append(out, g.foot(p, width)...)
}

// legend names what is drawn, a line each where there are several.
func (p *picture) legend(width int) []string {
	if p.single() {
		return []string{clip(p.curves[0].name+", gravity "+p.look.at20(), width)}
	}
	out := []string{clip("Days since the yeast, gravity "+p.look.at20(), width)}
	for i, c := range p.curves {
		out = append(out, clip(signs[i:i+1]+" "+c.name, width))
	}
	return out
}

// grid is a plot of characters, its first row the highest gravity.
type grid struct {
	cells [][]rune
	x     span
	high  float64 // gravity of the first row, in steps
	step  float64 // from row to row, SG
}

// newGrid takes the smallest step between rows that keeps the curve on one screen.
func newGrid(columns int, p *picture) *grid {
	g := &grid{x: p.x}
	rows := 0
	for _, s := range gravityStep {
		g.step = float64(s) / 1000
		g.high = math.Ceil(p.y.high/g.step - 0.5) // a reading half a step above still stands in the row
		rows = int(g.high-math.Floor(p.y.low/g.step+0.5)) + 1
		if rows <= mostRows {
			break
		}
	}
	for range min(rows, mostRows) {
		g.cells = append(g.cells, []rune(strings.Repeat(" ", columns)))
	}
	return g
}

// columns is the number of the last column.
func (g *grid) columns() float64 { return float64(len(g.cells[0]) - 1) }

// column is where a day stands.
func (g *grid) column(day float64) int {
	return int(math.Round((day - g.x.low) / (g.x.high - g.x.low) * g.columns()))
}

// day is what a column stands for, days since the origin.
func (g *grid) day(column int) float64 {
	return g.x.low + float64(column)/g.columns()*(g.x.high-g.x.low)
}

// line is the row of a gravity, counted from the top.
func (g *grid) line(sg float64) int {
	return int(math.Round(g.high - sg/g.step))
}

// set puts a letter at a gravity; outside the grid it is dropped.
func (g *grid) set(column int, sg float64, r rune) {
	if n := g.line(sg); n >= 0 && n < len(g.cells) && column >= 0 && column < len(g.cells[0]) {
		g.cells[n][column] = r
	}
}

// row draws a line across at a gravity.
func (g *grid) row(sg float64, r rune) {
	for i := range g.cells[0] {
		g.set(i, sg, r)
	}
}

// lines are the rows, each with its gravity.
func (g *grid) lines() []string {
	var out []string
	for i, r := range g.cells {
		out = append(out, strings.TrimRight(gravity((g.high-float64(i))*g.step)+"|"+string(r), " "))
	}
	return out
}

// foot is the axis and as many of its dates as find room.
func (g *grid) foot(p *picture, width int) []string {
	marks := []rune(strings.Repeat("-", len(g.cells[0])))
	dates := []rune(strings.Repeat(" ", width))
	free := 0
	for _, t := range p.xs {
		at := g.column(t.at)
		text := []rune(t.text)
		from := min(gutter+at, width-len(text))
		if from < free || at >= len(marks) {
			continue
		}
		marks[at] = '+'
		copy(dates[from:], text)
		free = from + len(text) + 1
	}
	return []string{"     +" + string(marks), strings.TrimRight(string(dates), " ")}
}

// clip cuts a line to n characters.
func clip(s string, n int) string {
	if utf8.RuneCountInString(s) <= n {
		return s
	}
	return string([]rune(s)[:n-1]) + "…"
}
