// Package ferment is a batch: what a household has written down of it, and the state
// that follows. Fold takes the entries and an instant and gives a State; nothing else
// is kept, so a corrected entry corrects every figure.
//
//   - entry.go: an entry, its quantities; words.go: the deeds and materials of the book
//   - state.go: State; fold.go: entries folded into one; foldon.go: gone on from the last
//   - gravity.go, instrument.go: readings corrected to 20 °C, and the hydrometers
//   - volume.go, bottles.go, amounts.go: litres, bottles, and units
//   - since.go: what went in after the newest gravity, by balance
//   - blend.go, past.go: wines put together, and where a batch comes from
//   - stage.go, stop.go: what stage it is in, and whether it has stopped
//   - gate.go, fizzy.go: why it must not be bottled yet
//   - kind.go, plan.go: which kind of wine it is, and the settings and sheet that it follows
//
// Nothing here knows a clock, a disk or a language. The formulas are in the rooms below:
// liquid, dose, forecast.
package ferment
