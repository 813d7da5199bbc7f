package chart

import (
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	xfont "golang.org/x/image/font"
)

// A look is the colours of a sheet.
type look struct {
	paper  color.NRGBA // behind everything
	ink    color.NRGBA // titles and values
	quiet  color.NRGBA // headings and numbers at the edges
	line   color.NRGBA // rules
	aim    color.NRGBA // area of what is aimed at
	edge   color.NRGBA // its borders
	belief color.NRGBA // area of what was believed
	first  color.NRGBA // marks: blue and orange, which everybody tells apart
	second color.NRGBA
}

func rgb(hex uint32) color.NRGBA {
	return color.NRGBA{R: uint8(hex >> 16), G: uint8(hex >> 8), B: uint8(hex), A: 255}
}

// lookOf returns the light look or the dark one.
func lookOf(dark bool) look {
	if dark {
		return look{
			paper: rgb(0x15191E), ink: rgb(0xF0F2F4), quiet: rgb(0xA9B3BE), line: rgb(0x333A42),
			aim: rgb(0x2D3327), edge: rgb(0x8A9A72), belief: rgb(0x25405E), first: rgb(0x7DBBFA), second: rgb(0xF5AC62),
		}
	}
	return look{
		paper: rgb(0xFFFFFF), ink: rgb(0x1B1F24), quiet: rgb(0x57606B), line: rgb(0xDFE3E8),
		aim: rgb(0xEFF2E4), edge: rgb(0x7C8A5F), belief: rgb(0xCFE0F3), first: rgb(0x1B5FAD), second: rgb(0xB04E00),
	}
}

// Sizes, in points of a sheet 540 wide.
const (
	width     = 540
	margin    = 22
	titleSize = 25
	textSize  = 19
	small     = 17
	dotSize   = 6.5
)

// style returns how text of a size and colour is set.
func style(size vg.Length, c color.Color, bold bool) draw.TextStyle {
	f := font.Font{Typeface: "Liberation", Variant: "Sans"}
	if bold {
		f.Weight = xfont.WeightBold
	}
	return text.Style{Color: c, Font: font.From(f, size), XAlign: draw.XLeft, YAlign: draw.YCenter, Handler: plot.DefaultTextHandler}
}

// stroke returns a line of a width.
func stroke(c color.Color, w vg.Length) draw.LineStyle { return draw.LineStyle{Color: c, Width: w} }

// at returns s set with its reference point at the right or the middle.
func at(s draw.TextStyle, x draw.XAlignment) draw.TextStyle {
	s.XAlign = x
	return s
}
