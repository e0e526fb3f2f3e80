//go:build !race

package script

const underRace = false
