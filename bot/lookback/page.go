package lookback

import (
	"html/template"
	"io"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/review"
	"shothand/bot/chart"
	"shothand/bot/say/past"
)

// WritePage writes a review of a bar as one page that needs nothing else.
func (l Back) WritePage(w io.Writer, b bar.Bar) error {
	page, err := l.page(b)
	if err != nil {
		return err
	}
	return template.Must(template.New("report").Parse(reportPage)).Execute(w, page)
}

// A page is what a report shows.
type page struct {
	Lang, Title string
	Answers     []string // to the three questions
	All         string   // how much there was
	Sections    []pageSection
	Head        string // of the sources
	Sources     []string
	Made        string
}

// A pageSection is a heading, what there is to say under it, and pictures.
type pageSection struct {
	Name     string
	Lines    []string
	Pictures []pagePicture
}

// A pagePicture is a picture in both looks.
type pagePicture struct {
	Light, Dark template.HTML
	Alt         string
}

// page lays a review out: the answers first, then a section a subject.
func (l Back) page(bar bar.Bar) (page, error) {
	p := page{Lang: l.Code(), Title: l.ReportTitle(bar) + ", " + l.Days(), All: l.Head(), Made: l.Say(past.Made)}
	if l.Review.Shots == 0 {
		return p, nil
	}
	p.Answers, p.Head, p.Sources = l.Answers(), strings.TrimRight(l.Say(past.SourcesHead), ": \u00a0\u202f"), l.Sources()
	for _, part := range l.Parts() {
		s, err := l.section(part)
		if err != nil {
			return p, err
		}
		if len(s.Lines)+len(s.Pictures) > 0 {
			p.Sections = append(p.Sections, s)
		}
	}
	return p, nil
}

// section draws the pictures of a part beside what it says.
func (l Back) section(part past.Part) (pageSection, error) {
	s := pageSection{Name: part.Name, Lines: part.Lines}
	for _, one := range l.partPictures(part) {
		drawn, err := drawBoth(one)
		if err != nil {
			return s, err
		}
		s.Pictures = append(s.Pictures, drawn)
	}
	return s, nil
}

// partPictures are those of one part.
func (l Back) partPictures(part past.Part) (list pictures) {
	switch part.About {
	case past.OfChanges:
		list.add(l.effectsPicture())
	case past.OfMornings:
		list.add(l.costPicture())
	case past.OfTrouble:
		list.add(l.troublePicture())
	case past.OfCoffee:
		for _, c := range l.Book.Courses {
			if c.Coffee.ID == part.Coffee {
				list = append(list, l.coffeePictures(c)...)
			}
		}
	case past.OfAdvice:
		list.add(l.calibrationPicture())
	}
	return list
}

// lastDay returns the last day of the span that has a shot.
func (l Back) lastDay() bar.Day {
	var day bar.Day
	for _, c := range l.Book.Courses {
		for _, s := range c.Trail.Steps {
			if l.Span.Holds(s.Entry) {
				day = max(day, s.Entry.Day)
			}
		}
	}
	return day
}

// coffeePictures are those of one coffee.
func (l Back) coffeePictures(c review.Course) pictures {
	var list pictures
	list.add(dialInPicture(l.Lang, c, l.Book.Calls, l.Span))
	list.add(curvePicture(l.Lang, c, l.Span))
	list.add(driftPicture(l.Lang, c, l.lastDay(), 0))
	return list
}

// drawBoth draws a picture as SVG, light and dark.
func drawBoth(p picture) (pagePicture, error) {
	light, err := chart.SVG(p.Picture, false)
	if err != nil {
		return pagePicture{}, err
	}
	dark, err := chart.SVG(p.Picture, true)
	if err != nil {
		return pagePicture{}, err
	}
	// The drawing escapes what it is given.
	return pagePicture{Light: template.HTML(light), Dark: template.HTML(dark), Alt: p.alt}, nil
}

// PageHead is how each page begins, and no other file.
const PageHead = "<!DOCTYPE html>\n<html data-report=\"shothand\" lang=\""

// reportPage is the page.
const reportPage = PageHead + `{{.Lang}}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>{{.Title}}</title>
<style>
:root { --paper: #fff; --ink: #1b1f24; --quiet: #57606b; --line: #dfe3e8; }
@media (prefers-color-scheme: dark) { :root { --paper: #15191e; --ink: #f0f2f4; --quiet: #a9b3be; --line: #333a42; } }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 76rem; background: var(--paper); color: var(--ink);
  font: 1rem/1.5 "Liberation Sans", Arial, Helvetica, sans-serif; overflow-wrap: anywhere; }
h1 { font-size: 1.6rem; line-height: 1.2; margin: .5rem 0 0; }
h2 { font-size: 1.2rem; margin: 2rem 0 .5rem; }
p, ul { margin: .4rem 0; }
ul { padding-left: 1.2rem; }
.quiet { color: var(--quiet); }
.answer { font-size: 1.15rem; margin: .7rem 0; max-width: 48rem; }
li { max-width: 60rem; margin: .2rem 0; }
@media (min-width: 60rem) {
  .one { display: grid; grid-template: auto 1fr / 1fr 26rem; column-gap: 2rem; align-items: start; }
  .one .pictures { grid-column: 2; grid-row: 1 / 3; margin-top: 2rem; }
  .one ul { grid-row: 2; }
}
.pictures { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(22rem, 100%), 1fr)); gap: 1rem; align-items: start; }
figure { margin: 0; border: 1px solid var(--line); break-inside: avoid; }
figure svg { display: block; width: 100%; height: auto; font-family: "Liberation Sans", Arial, Helvetica, sans-serif; }
.dark { display: none; }
@media (prefers-color-scheme: dark) { .light { display: none; } .dark { display: block; } }
@media print {
  :root { --paper: #fff; --ink: #000; --quiet: #444; --line: #ccc; }
  body { padding: 0 1px; font-size: 10.5pt; }
  h2 { margin-top: 1.2rem; }
  .light { display: block; } .dark { display: none; }
  .pictures { display: block; columns: 2; column-gap: 1rem; }
  figure { margin-bottom: 1rem; }
  .one { display: grid; grid-template: auto 1fr / 1fr 46%; column-gap: 1.5rem; align-items: start; break-inside: avoid; }
  .one .pictures { grid-column: 2; grid-row: 1 / 3; margin-top: 1.2rem; columns: auto; }
  .one ul { grid-row: 2; }
  h2 { break-after: avoid; }
  section:not(.one) > ul { break-inside: avoid; break-after: avoid; }
  li, .answer { break-inside: avoid; }
}
</style>
</head>
<body>
<h1>{{.Title}}</h1>
{{range .Answers}}<p class="answer">{{.}}</p>
{{end}}<p class="quiet">{{.All}}</p>
{{range .Sections}}<section{{if eq (len .Pictures) 1}} class="one"{{end}}><h2>{{.Name}}</h2>
{{if .Lines}}<ul>
{{range .Lines}}<li>{{.}}</li>
{{end}}</ul>
{{end}}{{if .Pictures}}<div class="pictures">
{{range .Pictures}}<figure role="img" aria-label="{{.Alt}}"><div class="light" aria-hidden="true">{{.Light}}</div><div class="dark" aria-hidden="true">{{.Dark}}</div></figure>
{{end}}</div>
{{end}}</section>
{{end}}{{if .Sources}}<h2>{{.Head}}</h2>
<ul>
{{range .Sources}}<li>{{.}}</li>
{{end}}</ul>{{end}}
<p class="quiet">{{.Made}}</p>
</body>
</html>
`
