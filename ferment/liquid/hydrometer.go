package liquid

// glassExpansion is the cubic expansion of the glass of a hydrometer per °C
// (ISO 1768:1975, clause 3; OIML R 22, tables VIII and IX).
const glassExpansion = 25e-6

// UnknownOG is the original gravity taken where none is known, for the correction
// of a reading only and never for alcohol.
const UnknownOG Gravity = 1.090

// The temperatures between which a gravity is corrected (common practice).
const (
	CoolestSample Celsius = 5
	WarmestSample Celsius = 35
)

const sourceSample = "common practice: let the sample come to room temperature"

// SixtyFahrenheit is the reference of many older and American hydrometers.
const SixtyFahrenheit Celsius = 140.0 / 9

// Hydrometer is an instrument: the temperature at which its scale is true, and
// what it shows too much in plain water at that temperature (0.001 where it reads
// 1.001). The zero value is a true one of 20 °C.
type Hydrometer struct {
	Reference    Celsius // 20, 15, 15.56 (60 °F); 0 means 20
	ErrorInWater float64 // subtracted from every reading
}

// Mix says what the hydrometer floats in: before the yeast a sugar solution,
// after it sugar and alcohol in balance with the original gravity.
type Mix struct {
	OG      Gravity // 0: unknown, UnknownOG assumed
	Pitched bool    // the yeast is in
}

// At20 returns the gravity 20/20 °C of what the stem showed as read at t.
//
//	ρ(t) = R·ρ_w(Tref)·(1 − 25e-6·(t − Tref)), R = read − error in water
//	ρ(t) = ρ_sucrose(w, t) + ρ_ethanol(q, t) − ρ_w(t)
//
// The composition that has the density ρ(t) is found and its density at 20 °C
// reported; the result is exact to 1e-7. Range: read 0.975 to 1.200, t 5 to
// 35 °C, reference 10 to 30 °C; outside, a *RangeError. Source: OIML R 22 for the
// glass and ethanol, ICUMSA for sugar, Tanaka 2001 for water. Example: 1.048 read
// at 24 °C in a must, on a 20 °C instrument, is 1.0490.
func (h Hydrometer) At20(read Gravity, t Celsius, m Mix) (Gravity, error) {
	ref, err := h.check(read, t, m)
	if err != nil {
		return 0, err
	}
	rho := (float64(read) - h.ErrorInWater) * h.unit(ref, float64(t))
	sugar, ethanol := sucroseAt(float64(t)), ethanolAt(float64(t))
	st, ok := m.reaches(rho, waterAt(float64(t)), &sugar, &ethanol)
	if !ok {
		return 0, h.outside(read)
	}
	return Gravity(st.rho / StandardDensityOfWater), nil
}

// Reading is the inverse of At20: what the stem would show at t in a liquid of
// that gravity. Ranges and sources are those of At20. Example: 1.0490 at 24 °C
// shows 1.048 on a 20 °C instrument.
func (h Hydrometer) Reading(at20 Gravity, t Celsius, m Mix) (Gravity, error) {
	ref, err := h.check(at20, t, m)
	if err != nil {
		return 0, err
	}
	st, ok := m.reaches(float64(at20)*StandardDensityOfWater, StandardDensityOfWater, &sucrose20, &ethanol20)
	if !ok {
		return 0, h.outside(at20)
	}
	sugar, ethanol := sucroseAt(float64(t)), ethanolAt(float64(t))
	x, _ := sugar.excess(st.w)
	y, _ := ethanol.excess(st.q)
	return Gravity((waterAt(float64(t))+x+y)/h.unit(ref, float64(t)) + h.ErrorInWater), nil
}

// unit is the density at t of a liquid in which a true instrument shows 1.000.
func (h Hydrometer) unit(ref, t float64) float64 {
	return waterAt(ref) * (1 - glassExpansion*(t-ref))
}

func (h Hydrometer) check(g Gravity, t Celsius, m Mix) (ref float64, err error) {
	ref = float64(h.Reference)
	if ref == 0 {
		ref = 20
	}
	if err := Within("reference temperature", ref, 10, 30, "°C", "hydrometers in use"); err != nil {
		return 0, err
	}
	if err := Within("sample temperature", float64(t), float64(CoolestSample), float64(WarmestSample), "°C", sourceSample); err != nil {
		return 0, err
	}
	if err := Within("gravity", float64(g), float64(LowestGravity), float64(HighestGravity), "", "wine and must"); err != nil {
		return 0, err
	}
	if err := Within("error in water", h.ErrorInWater, -0.02, 0.02, "", "common practice: replace the instrument"); err != nil {
		return 0, err
	}
	if !m.Pitched || m.OG == 0 {
		return ref, nil
	}
	return ref, Within("original gravity", float64(m.OG), 1, float64(HighestGravity), "", sourceBalance)
}

func (h Hydrometer) outside(g Gravity) error {
	return &RangeError{"gravity", float64(g), float64(LowestGravity), float64(HighestGravity), "", sourceBalance}
}

// reaches finds what the mix holds where its density is rho: sugar alone before
// the pitch, a point of the ferment after it.
func (m Mix) reaches(rho, water float64, sugar *sucroseCurve, ethanol *ethanolCurve) (state, bool) {
	switch {
	case !m.Pitched:
		return plainSugar(rho, water, sugar)
	case m.OG == 0:
		return unknownOG.reaches(rho, water, sugar, ethanol)
	}
	return balanceFrom(m.OG).reaches(rho, water, sugar, ethanol)
}

var unknownOG = balanceFrom(UnknownOG)
