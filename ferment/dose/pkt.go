package dose

import "mustbook/ferment/liquid"

const sourcePKT = "OIV-MA-AS323-04C, table I"

// The grid of the table: alcohol in steps of 5 % vol, temperature of 5 °C from 20.
const (
	pktStep   = 5
	pktFirstT = 20
)

// pktTable is the thermodynamic constant pkT of sulphurous acid: a row for 0, 5, 10,
// 15 % vol, a column for 20, 25, 30, 35, 40 °C.
var pktTable = [4][5]float64{
	{1.798, 2.0, 2.219, 2.334, 2.493},
	{1.897, 2.098, 2.299, 2.397, 2.527},
	{1.997, 2.198, 2.394, 2.488, 2.606},
	{2.099, 2.301, 2.503, 2.607, 2.728},
}

// PKT returns the thermodynamic constant pkT of sulphurous acid in wine, interpolated
// in both directions; below 20 °C the column of 20 °C stands. Range: 0 to 15 % vol, 0
// to 40 °C; else a *liquid.RangeError. Source: OIV-MA-AS323-04C, table I. Example: 10 %
// vol at 25 °C has 2.198.
func PKT(abv liquid.PercentVol, t liquid.Celsius) (float64, error) {
	if err := firstError(liquid.Within("alcohol", float64(abv), 0, 15, "% vol", sourcePKT),
		liquid.Within("temperature", float64(t), 0, 40, "°C", sourcePKT)); err != nil {
		return 0, err
	}
	row, rowPart := cell(float64(abv)/pktStep, len(pktTable))
	col, colPart := cell(max(0, (float64(t)-pktFirstT)/pktStep), len(pktTable[0]))
	at := func(r int) float64 {
		return pktTable[r][col] + colPart*(pktTable[r][col+1]-pktTable[r][col])
	}
	return at(row) + rowPart*(at(row+1)-at(row)), nil
}

// cell splits x into the cell of a grid of n lines and the part within it.
func cell(x float64, n int) (i int, part float64) {
	i = min(int(x), n-2)
	return i, x - float64(i)
}
