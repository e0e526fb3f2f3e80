//go:build !race

package forecast

const underRace = false
