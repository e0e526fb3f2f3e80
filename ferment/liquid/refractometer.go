package liquid

const sourceRefractometer = "OIV-MA-AS2-02, table I"

// The columns of the table below, % mass measured, begin at 10 and go by 5; its
// rows begin at 5 °C and go by 1. The rows up to 9 °C stop at 30 %.
const (
	refractometerFirstBrix = 10
	refractometerBrixStep  = 5
	refractometerFirstT    = 5
)

// refractometerTable is what to add to a refractometer's reading.
var refractometerTable = [][]float64{
	{-0.82, -0.87, -0.92, -0.95, -0.99},
	{-0.8, -0.82, -0.87, -0.9, -0.94},
	{-0.74, -0.78, -0.82, -0.84, -0.88},
	{-0.69, -0.73, -0.76, -0.79, -0.82},
	{-0.64, -0.67, -0.71, -0.73, -0.75},
	{-0.59, -0.62, -0.65, -0.67, -0.69, -0.71, -0.72, -0.73, -0.74, -0.75, -0.75, -0.75, -0.75, -0.75},
	{-0.54, -0.57, -0.59, -0.61, -0.63, -0.64, -0.65, -0.66, -0.67, -0.68, -0.68, -0.68, -0.68, -0.67},
	{-0.49, -0.51, -0.53, -0.55, -0.56, -0.57, -0.58, -0.59, -0.6, -0.6, -0.61, -0.61, -0.6, -0.6},
	{-0.43, -0.45, -0.47, -0.48, -0.5, -0.51, -0.52, -0.52, -0.53, -0.53, -0.53, -0.53, -0.53, -0.53},
	{-0.38, -0.39, -0.4, -0.42, -0.43, -0.44, -0.44, -0.45, -0.45, -0.46, -0.46, -0.46, -0.46, -0.45},
	{-0.32, -0.33, -0.34, -0.35, -0.36, -0.37, -0.37, -0.38, -0.38, -0.38, -0.38, -0.38, -0.38, -0.38},
	{-0.26, -0.27, -0.28, -0.28, -0.29, -0.3, -0.3, -0.3, -0.31, -0.31, -0.31, -0.31, -0.31, -0.3},
	{-0.2, -0.2, -0.21, -0.21, -0.22, -0.22, -0.23, -0.23, -0.23, -0.23, -0.23, -0.23, -0.23},
}

// RefractometerCorrection returns what a refractometer read at t would show at
// 20 °C, interpolated in both directions; between the last row, 17 °C, and 20 °C,
// where there is nothing to correct, it goes straight. It is for a must: once the
// yeast is in, alcohol bends light and no correction helps. Instruments that
// compensate by themselves are not to be corrected. Range: 5 to 20 °C; 10 to 75
// °Brix, up to 30 below 10 °C; outside, a *RangeError. Source: OIV-MA-AS2-02, table
// I. Example: 20 °Brix read at 15 °C is 19.66.
func RefractometerCorrection(read Brix, t Celsius) (Brix, error) {
	if err := Within("temperature of the refractometer", float64(t), refractometerFirstT, 20, "°C", sourceRefractometer); err != nil {
		return 0, err
	}
	high := 75.0
	if t < 10 {
		high = 30
	}
	if err := Within("Brix", float64(read), refractometerFirstBrix, high, "°Brix", sourceRefractometer); err != nil {
		return 0, err
	}
	row := int(t) - refractometerFirstT
	last := len(refractometerTable) - 1
	if row >= last {
		lastT := float64(refractometerFirstT + last)
		share := (20 - float64(t)) / (20 - lastT)
		return read + Brix(share*refractometerRow(last, float64(read))), nil
	}
	part := float64(t) - float64(int(t))
	below := refractometerRow(row, float64(read))
	if part == 0 {
		return read + Brix(below), nil
	}
	return read + Brix(below+part*(refractometerRow(row+1, float64(read))-below)), nil
}

// refractometerRow interpolates within one row.
func refractometerRow(row int, brix float64) float64 {
	r := refractometerTable[row]
	x := (brix - refractometerFirstBrix) / refractometerBrixStep
	i := min(int(x), len(r)-2)
	return r[i] + (x-float64(i))*(r[i+1]-r[i])
}
