package dose

import "mustbook/ferment/liquid"

// Gas is the carbon dioxide of a ferment and what it does to a closed room.
type Gas struct {
	Grams    liquid.Grams
	Litres   liquid.Litres // of gas at the room's temperature
	Share    float64       // of the room's air, 0 to 1, well mixed
	Warnings []Warning
}

// GasInRoom returns the carbon dioxide of so much fermented sugar (g per litre) in v
// litres and its share in the air of a shut room of so many m³; near the floor there
// is more. A room of 0 tells the gas alone. Range: sugar 0 to 500 g/L, room 0.1 to
// 100,000 m³, t 0 to 45 °C; else a *liquid.RangeError. Source: 0.466 g/g and an ideal
// gas; limits of NIOSH, cdc.gov/niosh/idlh/124389. Example: a fifth of 220 g/L in 23 L
// is 0.26 m³, in 10 m³ 2.5 %, five times the limit at work.
func GasInRoom(v liquid.Litres, fermented liquid.GramsPerLitre, room float64, t liquid.Celsius) (Gas, error) {
	if err := firstError(checkVolume(v),
		liquid.Within("fermented sugar", float64(fermented), 0, 500, "g/L", "bench arithmetic"),
		liquid.Within("temperature", float64(t), 0, 45, "°C", "bench arithmetic")); err != nil {
		return Gas{}, err
	}
	out := Gas{Grams: liquid.CO2FromSugar(liquid.Grams(float64(v) * float64(fermented)))}
	out.Litres = liquid.CO2Volume(out.Grams, t)
	if room == 0 {
		return out, nil
	}
	var err error
	if out.Share, err = liquid.CO2Share(out.Litres, room); err != nil {
		return Gas{}, err
	}
	out.Warnings = warn(out.Warnings, out.Share > liquid.CO2Limit, OverWorkLimit)
	out.Warnings = warn(out.Warnings, out.Share > liquid.CO2Danger, DangerousAir)
	return out, nil
}

// GasPerHour returns the litres of gas that v litres give off in an hour, by two
// gravities of the same ferment and the hours between. Range: that of
// liquid.SugarLeft, hours 0.5 to 10,000, the later gravity not above; else a
// *liquid.RangeError. Source: the balance of liquid.AlcoholByBalance. Example: 23 L
// falling from 1.060 to 1.045 in a day give about 8 L an hour.
func GasPerHour(v liquid.Litres, og, before, now liquid.Gravity, hours float64, t liquid.Celsius) (liquid.Litres, error) {
	if err := firstError(checkVolume(v), liquid.Within("hours", hours, 0.5, 10_000, "h", "bench arithmetic"),
		liquid.Within("later gravity", float64(now), 0.975, float64(before), "", sourceWine)); err != nil {
		return 0, err
	}
	a, err := liquid.AlcoholByBalance(og, before)
	if err != nil {
		return 0, err
	}
	b, err := liquid.AlcoholByBalance(og, now)
	if err != nil {
		return 0, err
	}
	sugar := float64(b.ABV-a.ABV) * liquid.SugarPerPercent * float64(v)
	return liquid.CO2Volume(liquid.CO2FromSugar(liquid.Grams(sugar)), t) / liquid.Litres(hours), nil
}
