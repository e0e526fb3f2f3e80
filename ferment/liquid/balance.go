package liquid

// The stoichiometry of a ferment, in g per g of sugar that goes. The yield
// follows from the legal factor of 16.83 g/L of sugar per % vol (EEC and OIV,
// from memory): 7.8924 ÷ 16.83 = 0.469, inside the published 46.5 to 47.5 % (B.
// Meier, Weihenstephan, section 4.2.3, which has the 0.466 for carbon dioxide too).
const (
	SugarPerPercent = 16.83 // g of sugar per litre of wine for 1 % vol
	CO2PerSugar     = 0.466 // g of carbon dioxide, which leaves
	staysAsExtract  = 0.04  // g of glycerol, acids and the like, which stay
)

// OtherExtract is the extract of a dry wine that is no sugar, in g/L (common
// practice; the mean of 4,898 analysed white wines is 19, P. Cortez et al. 2009).
const OtherExtract GramsPerLitre = 22

const sourceBalance = "alcohol by balance"

// The lowest and highest gravity that a correction or a balance takes.
const (
	LowestGravity  Gravity = 0.975
	HighestGravity Gravity = 1.200
)

// balance is a ferment that began at a known density: every state that it can
// reach is a pair of mass fractions (w sucrose, q ethanol) whose binary solutions
// have the extract and the strength of the wine.
type balance struct {
	rho     float64 // at the start, kg/m³ at 20 °C
	extract float64 // at the start, g/L
}

func balanceFrom(og Gravity) balance {
	return balance{float64(og) * StandardDensityOfWater, float64(Extract(og))}
}

// state is one point on the way.
type state struct {
	w, q       float64 // mass fractions of the two binary solutions
	sugar      float64 // g fermented per litre of wine
	rho        float64 // kg/m³ at 20 °C
	wBy, rhoBy float64 // slopes of w and rho by q along the way
}

// at returns the state in which the ethanol fraction is q. Mass but for the
// carbon dioxide is conserved, so V = ρ_OG ÷ (ρ + 0.466·s) litres of wine come of
// a litre of must, and E_OG − 0.96·s·V = E·V fixes the extract that is left.
func (b balance) at(q, guess float64) state {
	x, xBy := ethanol20.excess(q)
	ethanol := q * (StandardDensityOfWater + x)
	perEthanol := SugarPerPercent * 100 / pureEthanol // g of sugar per g of ethanol
	s := perEthanol * ethanol
	sBy := perEthanol * (StandardDensityOfWater + x + q*xBy)
	k := b.extract / b.rho
	var y, yBy, slope float64
	w, _ := root(-0.9, fractionEnd, guess, 1e-11, func(w float64) (float64, float64) {
		y, yBy = sucrose20.excess(w)
		rhoSugar := StandardDensityOfWater + y
		slope = rhoSugar + w*yBy - k*yBy
		return w*rhoSugar - k*(rhoSugar+x+CO2PerSugar*s) + (1-staysAsExtract)*s, slope
	})
	wBy := (k*(xBy+CO2PerSugar*sBy) - (1-staysAsExtract)*sBy) / slope
	return state{w, q, s, StandardDensityOfWater + x + y, wBy, xBy + yBy*wBy}
}

// reaches finds the state whose density at the temperature of the two curves
// is rho kg/m³, water being that of the temperature; false where none is.
func (b balance) reaches(rho, water float64, sugar *sucroseCurve, ethanol *ethanolCurve) (state, bool) {
	w0 := b.extract / b.rho
	start, _ := sugar.excess(w0)
	if water+start <= rho { // nothing fermented: plain sugar solution
		return plainSugar(rho, water, sugar)
	}
	// No ferment falls by less than 6.5 points for 1 % vol, so the end of the
	// bracket lies beyond the lowest gravity.
	end := ethanolFraction((b.rho/StandardDensityOfWater - 0.955) * 100 / 0.65)
	guess := clamp((water+start-rho)/930, 1e-9, end)
	var st state
	w := w0
	_, ok := root(0, end, guess, 1e-9, func(q float64) (float64, float64) {
		st = b.at(q, w)
		w = st.w
		x, xBy := sugar.excess(st.w)
		y, yBy := ethanol.excess(q)
		return water + x + y - rho, xBy*st.wBy + yBy
	})
	return st, ok
}

// plainSugar finds the sugar solution whose density at the curve's temperature is
// rho, water being that of the temperature.
func plainSugar(rho, water float64, sugar *sucroseCurve) (state, bool) {
	w, ok := root(-0.5, fractionEnd, (rho-water)/400, 1e-11, func(w float64) (float64, float64) {
		x, slope := sugar.excess(w)
		return water + x - rho, slope
	})
	x, _ := sucrose20.excess(w)
	return state{w: w, rho: StandardDensityOfWater + x}, ok
}
