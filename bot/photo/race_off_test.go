//go:build !race

package photo

const underRace = false
