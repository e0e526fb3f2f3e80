package liquid

import "math"

const sourceBrix = "sucrose table, ICUMSA polynomial"

// GravityFromBrix returns the gravity of a sucrose solution of b mass per cent;
// Plato and Balling go the same way. Range: 0 to 80, else a *RangeError. Source: the
// ICUMSA polynomial of SucroseDensity. Example: 22 °Brix gives 1.0919.
func GravityFromBrix(b Brix) (Gravity, error) {
	if err := Within("Brix", float64(b), 0, 80, "°Brix", sourceBrix); err != nil {
		return 0, err
	}
	x, _ := sucrose20.excess(float64(b) / 100)
	return Gravity(1 + x/StandardDensityOfWater), nil
}

// Brix is the inverse of GravityFromBrix. It holds from 0.970 to 1.410; below
// 1.000 it is negative. Example: 1.083 has 20 °Brix.
func (g Gravity) Brix() Brix { return Brix(100 * fractionOfGravity(g)) }

// GravityFromOechsle returns the gravity of a must of oe degrees Oechsle, which
// are the points of 0.001 above water at 20/20. Range: −25 to 200, else a
// *RangeError. Source: foodlexicon.org, Oechsle. Example: 90 °Oe is 1.090.
func GravityFromOechsle(oe float64) (Gravity, error) {
	if err := Within("Oechsle", oe, -25, 200, "°Oe", "definition of the scale"); err != nil {
		return 0, err
	}
	return Gravity(1 + oe/1000), nil
}

// Oechsle is the inverse of GravityFromOechsle.
func (g Gravity) Oechsle() float64 { return g.Points() }

// baumeModulus is that of the American scale; the older one of 144.3 differs by
// less than 0.1 degree in must (cool.conservation-us.org, dt0255).
const baumeModulus = 145

// GravityFromBaume returns the gravity of b degrees Baumé of the scale for heavy
// liquids, SG = 145 ÷ (145 − B); its 60 °F is taken as 20/20, which moves it by less
// than 0.0005. Range: 0 to 25, else a *RangeError. Example: 12 °Bé is 1.090.
func GravityFromBaume(b float64) (Gravity, error) {
	if err := Within("Baumé", b, 0, 25, "°Bé", "Baumé, modulus 145"); err != nil {
		return 0, err
	}
	return Gravity(baumeModulus / (baumeModulus - b)), nil
}

// Baume is the inverse of GravityFromBaume.
func (g Gravity) Baume() float64 { return baumeModulus - baumeModulus/float64(g) }

// GravityFromKMW returns the gravity of k degrees of the Klosterneuburg must scale
// by Oe = k·(4.54 + 0.022·k). Range: 0 to 40, else a *RangeError. Source:
// glossary.wein.plus, weight ratio. Example: 17 KMW is 84 °Oe, 1.084.
func GravityFromKMW(k float64) (Gravity, error) {
	if err := Within("KMW", k, 0, 40, "KMW", "KMW to Oechsle, wein.plus"); err != nil {
		return 0, err
	}
	return GravityFromOechsle(k * (4.54 + 0.022*k))
}

// KMW is the inverse of GravityFromKMW, the positive root of its square.
func (g Gravity) KMW() float64 {
	return (-4.54 + math.Sqrt(4.54*4.54+4*0.022*g.Oechsle())) / (2 * 0.022)
}
