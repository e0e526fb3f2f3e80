// Package dose is the arithmetic of the bench: how much of what to put into how many
// litres, by mass balance, and what the litres are afterwards.
//
//   - warning.go: the typed codes that a result may carry, and the common checks
//   - sugar.go: sugar and honey up to a gravity, water down to one
//   - sweeten.go: sugar into wine, and what it does to gravity and alcohol
//   - working.go: sugar, honey and water into what ferments; a must made up to a volume
//   - acid.go: acid up and down, and the bases that acidity is told in
//   - sulphite.go: free and molecular sulphur dioxide; pkt.go: the OIV constants
//   - salts.go: metabisulphite in grams and tablets, sorbate and its cap
//   - nutrient.go: nitrogen needed, in portions, under a ceiling
//   - blend.go: blends and dilution
//   - bottle.go: priming sugar, and bottles out of litres
//   - spoon.go: spoons as grams, and stock solutions for what is too small to weigh
//   - gas.go: carbon dioxide in a room
//
// Every function is pure, refuses outside its range with a *liquid.RangeError, and
// says what to beware of by Warning codes, never in sentences.
package dose
