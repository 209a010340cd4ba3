package figure

// A Picture is any of the figures, for what draws them without knowing which.
type Picture interface {
	Draw(Look) string
	Data(Look) Table
	In(word func(string) string) Picture
}

// In returns the plot with its title, its axes and every name in other words.
// Desc is a sentence and stays.
func (p Plot) In(word func(string) string) Picture {
	p.Title = word(p.Title)
	p.X, p.Y = p.X.in(word), p.Y.in(word)
	p.Bands, p.Lines, p.Points = append([]Band(nil), p.Bands...), append([]Line(nil), p.Lines...), append([]Points(nil), p.Points...)
	p.Bars, p.Marks, p.Labels = append([]Bar(nil), p.Bars...), append([]Mark(nil), p.Marks...), append([]Label(nil), p.Labels...)
	p.Ellipses, p.Arrows = append([]Ellipse(nil), p.Ellipses...), append([]Arrow(nil), p.Arrows...)
	for i := range p.Bands {
		p.Bands[i].Name = word(p.Bands[i].Name)
	}
	for i := range p.Lines {
		p.Lines[i].Name = word(p.Lines[i].Name)
	}
	for i := range p.Points {
		p.Points[i].Name = word(p.Points[i].Name)
	}
	for i := range p.Bars {
		p.Bars[i].Name = word(p.Bars[i].Name)
	}
	for i := range p.Marks {
		p.Marks[i].Name = word(p.Marks[i].Name)
	}
	for i := range p.Labels {
		p.Labels[i].Text = word(p.Labels[i].Text)
	}
	for i := range p.Ellipses {
		p.Ellipses[i].Name = word(p.Ellipses[i].Name)
	}
	for i := range p.Arrows {
		p.Arrows[i].Name = word(p.Arrows[i].Name)
	}
	return p
}

// in is the axis with its label, its unit and its ticks in other words.
func (a Axis) in(word func(string) string) Axis {
	a.Label, a.Unit = word(a.Label), word(a.Unit)
	a.Ticks = append([]Tick(nil), a.Ticks...)
	for i := range a.Ticks {
		a.Ticks[i].Name = word(a.Ticks[i].Name)
	}
	return a
}

// In returns the balance with its title and every name in other words.
func (f Flow) In(word func(string) string) Picture {
	f.Title = word(f.Title)
	f.From, f.To = append([]Share(nil), f.From...), append([]Share(nil), f.To...)
	for i := range f.From {
		f.From[i].Name = word(f.From[i].Name)
	}
	for i := range f.To {
		f.To[i].Name = word(f.To[i].Name)
	}
	return f
}

// In returns the strip with its title, its unit and every name in other words.
func (s Strip) In(word func(string) string) Picture {
	s.Title, s.Unit = word(s.Title), word(s.Unit)
	s.Windows, s.Moments = append([]Window(nil), s.Windows...), append([]Moment(nil), s.Moments...)
	for i := range s.Windows {
		s.Windows[i].Name = word(s.Windows[i].Name)
	}
	for i := range s.Moments {
		s.Moments[i].Name = word(s.Moments[i].Name)
	}
	return s
}
