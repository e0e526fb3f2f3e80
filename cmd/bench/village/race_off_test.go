//go:build !race

package village

const underRace = false
