// Package liquid knows water, sugar and alcohol: how dense their solutions are at
// a temperature, what a hydrometer shows in them, and what two gravities say of the
// alcohol between them. It is the lowest room of ferment and holds the types with
// units that every formula above it takes.
//
//   - units.go: Gravity, Celsius, Litres and the rest; customary units
//   - errors.go: RangeError, the answer outside a valid range
//   - water.go, ethanol.go, sucrose.go: the published densities
//   - solution.go: extract and gravity, Tabarié, solutions as masses
//   - balance.go: every state that a ferment can reach
//   - hydrometer.go: a reading corrected to 20 °C and back
//   - alcohol.go: alcohol, sugar left, potential alcohol by balance
//   - scales.go, refractometer.go: Brix, Oechsle, Baumé, KMW
//   - gas.go: carbon dioxide, pressure, freezing
//   - solve.go: the one root finder, always ending
//
// Everything is a pure function of its arguments. Gravities are 20/20 °C on the
// scale of StandardDensityOfWater unless a name says otherwise.
package liquid
