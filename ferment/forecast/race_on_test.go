//go:build race

package forecast

// underRace: the race detector makes everything several times slower, and what runs
// in one goroutine alone has nothing to show it.
const underRace = true
