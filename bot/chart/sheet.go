package chart

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// A Picture is something that can be drawn.
type Picture interface{ sheet(l look) sheet }

// A sheet is a picture laid out.
type sheet struct {
	title  string
	under  string // a line or two below the title
	panels []panel
	keys   []key
}

// A panel is one plot of a sheet.
type panel struct {
	head   string // above it, with the unit
	foot   string // below it, with the unit
	left   vg.Length
	right  vg.Length // room beside the plot for its marks' names
	height vg.Length // of the plot itself
	plot   *plot.Plot
	beside *panel // at the same height, or nil
}

// A key says what a mark means.
type key struct {
	draw func(c draw.Canvas, at vg.Point)
	text string
}

// dpi makes a sheet 1080 pixels wide.
const dpi = 144

// PNG returns p as a PNG file, 1080 pixels wide.
func PNG(p Picture, dark bool) ([]byte, error) {
	l := lookOf(dark)
	s := p.sheet(l)
	c := vgimg.NewWith(vgimg.UseWH(width, s.height()), vgimg.UseDPI(dpi), vgimg.UseBackgroundColor(l.paper))
	s.draw(draw.NewCanvas(c, width, s.height()), l)
	return written(vgimg.PngCanvas{Canvas: c})
}

// SVG returns p as an SVG element whose fonts are the reader's.
func SVG(p Picture, dark bool) ([]byte, error) {
	l := lookOf(dark)
	s := p.sheet(l)
	c := vgsvg.NewWith(vgsvg.UseWH(width, s.height()))
	s.draw(draw.NewCanvas(c, width, s.height()), l)
	file, err := written(c)
	if err != nil {
		return nil, err
	}
	_, svg, found := bytes.Cut(file, []byte("<svg"))
	if !found {
		return nil, fmt.Errorf("draw a picture: no svg element")
	}
	return fixWidths(append([]byte("<svg"), svg...)), nil
}

// fixWidths gives each text of an SVG the width it was laid out with, so that it
// fits whatever fonts the reader has.
func fixWidths(svg []byte) []byte {
	text := regexp.MustCompile(`(?s)<text ([^>]*?)font-weight:(\w+)([^>]*?)font-size:([\d.]+)px([^>]*)>([^<]*)</text>`)
	return text.ReplaceAllFunc(svg, func(whole []byte) []byte {
		part := text.FindSubmatch(whole)
		size, err := strconv.ParseFloat(string(part[4]), 64)
		if err != nil {
			return whole
		}
		w := style(vg.Length(size), nil, string(part[2]) == "bold").Width(html.UnescapeString(string(part[6])))
		return append(fmt.Appendf(nil, `<text textLength="%.1f" lengthAdjust="spacingAndGlyphs" `, float64(w)), whole[len("<text "):]...)
	})
}

func written(c io.WriterTo) ([]byte, error) {
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return nil, fmt.Errorf("draw a picture: %w", err)
	}
	return b.Bytes(), nil
}

// Heights of the parts of a sheet, in points.
const (
	titleHeight = 33
	underHeight = 24
	headHeight  = 28
	axisHeight  = 26
	footHeight  = 24
	keyHeight   = 27
	gap         = 16
)

func (s sheet) height() vg.Length {
	h := vg.Length(2*margin + titleHeight*len(wrap(s.title, titleSize, true)) + underHeight*len(wrap(s.under, small, false)))
	for _, p := range s.panels {
		h += p.whole() + gap
	}
	return h + vg.Length(keyHeight*len(s.keys))
}

func (p panel) whole() vg.Length {
	h := p.height + axisHeight
	if p.head != "" {
		h += headHeight
	}
	if p.foot != "" {
		h += footHeight
	}
	return h
}

// draw draws the sheet, from the top.
func (s sheet) draw(c draw.Canvas, l look) {
	c.SetColor(l.paper)
	c.Fill(c.Path())
	y := c.Max.Y - margin
	lines := func(text string, size, step vg.Length, bold bool) {
		set := style(size, l.ink, bold)
		if !bold {
			set.Color = l.quiet
		}
		for _, line := range wrap(text, size, bold) {
			c.FillText(set, vg.Point{X: margin, Y: y - step/2}, line)
			y -= step
		}
	}
	lines(s.title, titleSize, titleHeight, true)
	lines(s.under, small, underHeight, false)
	for _, p := range s.panels {
		y -= gap
		p.draw(c, l, y)
		y -= p.whole()
	}
	for _, k := range s.keys {
		y -= keyHeight
		k.draw(c, vg.Point{X: margin + 14, Y: y + keyHeight/2})
		c.FillText(style(small, l.quiet, false), vg.Point{X: margin + 38, Y: y + keyHeight/2}, k.text)
	}
}

// draw draws the panel below y.
func (p panel) draw(c draw.Canvas, l look, y vg.Length) {
	if p.beside != nil {
		p.beside.draw(c, l, y)
	}
	quiet := style(small, l.quiet, false)
	if p.head != "" {
		c.FillText(quiet, vg.Point{X: margin + p.left - 2, Y: y - headHeight/2 + 3}, p.head)
		y -= headHeight
	}
	area := c
	area.Min = vg.Point{X: margin + p.left, Y: y - p.height}
	area.Max = vg.Point{X: c.Max.X - margin - p.right, Y: y}
	p.plot.Draw(area)
	if p.foot != "" {
		c.FillText(at(quiet, draw.XRight), vg.Point{X: c.Max.X - margin, Y: area.Min.Y - axisHeight - footHeight/2 + 3}, p.foot)
	}
}

// wrap breaks text into lines that fit on the sheet.
func wrap(text string, size vg.Length, bold bool) []string {
	const room = width - 2*margin
	set := style(size, nil, bold)
	var lines []string
	for _, word := range together(strings.Fields(text)) {
		if n := len(lines); n > 0 && set.Width(lines[n-1]+" "+word) <= room {
			lines[n-1] += " " + word
			continue
		}
		lines = append(lines, fit(word, set, room))
	}
	return lines
}

// together puts each unit beside its number: "25 s" is one word to a line.
func together(words []string) []string {
	var all []string
	for i, word := range words {
		unit := slices.Contains([]string{"s", "g", "%", "min"}, strings.Trim(word, ".,;:)"))
		if before := len(all) - 1; i > 0 && unit && strings.ContainsAny(words[i-1][len(words[i-1])-1:], "0123456789") {
			all[before] += " " + word
			continue
		}
		all = append(all, word)
	}
	return all
}

// fit returns text cut to room, with an ellipsis where it was.
func fit(text string, set draw.TextStyle, room vg.Length) string {
	if set.Width(text) <= room {
		return text
	}
	r := []rune(text)
	for len(r) > 1 && set.Width(string(r)+"…") > room {
		r = r[:len(r)-1]
	}
	return strings.TrimRight(string(r), " ,") + "…"
}
