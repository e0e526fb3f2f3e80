package photo

import (
	"image"
	"image/color"
	"math"
)

// grey gives img in grey, its longer side at most side pixels.
func grey(img image.Image, side int) *image.Gray {
	img = shrink(img, side)
	b := img.Bounds()
	out := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
	for y := range b.Dy() {
		for x := range b.Dx() {
			c := color.GrayModel.Convert(img.At(b.Min.X+x, b.Min.Y+y)).(color.Gray)
			out.Pix[y*out.Stride+x] = c.Y
		}
	}
	return out
}

// smooth is the mean over (2r+1)² pixels: it takes the grain out of a dim photo.
func smooth(in *image.Gray, r int) *image.Gray {
	w, h := in.Rect.Dx(), in.Rect.Dy()
	out := image.NewGray(in.Rect)
	sums := make([]int, w) // of each column over the rows of the window
	for y := -r; y <= r; y++ {
		addRow(sums, in, y, 1)
	}
	area := (2*r + 1) * (2*r + 1)
	for y := range h {
		total := 0
		for x := -r; x <= r; x++ {
			total += sums[clamp(x, w)]
		}
		for x := range w {
			out.Pix[y*out.Stride+x] = uint8(total / area)
			total += sums[clamp(x+r+1, w)] - sums[clamp(x-r, w)]
		}
		addRow(sums, in, y+r+1, 1)
		addRow(sums, in, y-r, -1)
	}
	return out
}

// addRow adds a row to the sums of the columns, or takes it away; rows beyond the
// edge are the edge's.
func addRow(sums []int, in *image.Gray, y, sign int) {
	row := in.Pix[clamp(y, in.Rect.Dy())*in.Stride:]
	for x := range sums {
		sums[x] += sign * int(row[x])
	}
}

// clamp keeps an index inside 0 … n-1.
func clamp(i, n int) int { return min(max(i, 0), n-1) }

// sharpen undoes some blur: twice the picture less its smoothed self.
func sharpen(in *image.Gray, r int) *image.Gray {
	soft := smooth(in, r)
	out := image.NewGray(in.Rect)
	for i := range in.Pix {
		v := 3*int(in.Pix[i]) - 2*int(soft.Pix[i])
		out.Pix[i] = uint8(min(max(v, 0), 255))
	}
	return out
}

// level takes out uneven light: each pixel against the mean of its surroundings.
// The library's row readers know one threshold a row, which a lamp at one side
// defeats.
func level(in *image.Gray, r int) *image.Gray {
	around := smooth(in, r)
	out := image.NewGray(in.Rect)
	for i := range in.Pix {
		v := 128 * int(in.Pix[i]) / max(1, int(around.Pix[i]))
		out.Pix[i] = uint8(min(v, 255))
	}
	return out
}

// enlarge doubles both sides, linear between the pixels.
func enlarge(in *image.Gray) *image.Gray {
	w, h := in.Rect.Dx(), in.Rect.Dy()
	out := image.NewGray(image.Rect(0, 0, 2*w, 2*h))
	for y := range 2 * h {
		for x := range 2 * w {
			out.Pix[y*out.Stride+x] = sample(in, float64(x)/2-0.25, float64(y)/2-0.25)
		}
	}
	return out
}

// rotate turns by deg about the middle; what comes in from outside is white.
func rotate(in *image.Gray, deg float64) *image.Gray {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	w, h := float64(in.Rect.Dx()), float64(in.Rect.Dy())
	ow, oh := math.Abs(w*cos)+math.Abs(h*sin), math.Abs(w*sin)+math.Abs(h*cos)
	out := image.NewGray(image.Rect(0, 0, int(ow), int(oh)))
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			dx, dy := float64(x)-ow/2, float64(y)-oh/2
			sx, sy := dx*cos+dy*sin+w/2, -dx*sin+dy*cos+h/2
			v := uint8(255)
			if sx >= 0 && sy >= 0 && sx <= w-1 && sy <= h-1 {
				v = sample(in, sx, sy)
			}
			out.Pix[y*out.Stride+x] = v
		}
	}
	return out
}

// sample reads between pixels.
func sample(in *image.Gray, x, y float64) uint8 {
	fx, fy := math.Floor(x), math.Floor(y)
	w, h := in.Rect.Dx(), in.Rect.Dy()
	x0, x1 := clamp(int(fx), w), clamp(int(fx)+1, w)
	y0, y1 := clamp(int(fy), h), clamp(int(fy)+1, h)
	ax, ay := x-fx, y-fy
	at := func(x, y int) float64 { return float64(in.Pix[y*in.Stride+x]) }
	top := at(x0, y0)*(1-ax) + at(x1, y0)*ax
	low := at(x0, y1)*(1-ax) + at(x1, y1)*ax
	return uint8(math.Round(top*(1-ay) + low*ay))
}
