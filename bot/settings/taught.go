package settings

import (
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/bot/say/setup"
	"shothand/bot/turn"
)

// PressTeach asks what a word means here.
func PressTeach(t *turn.Turn, e bar.Entry, word string) ([]turn.Out, error) {
	p := t.Post(chat.Question, setup.In(t.Lang()).TeachQuestion(word))
	for _, m := range setup.TeachMeanings() {
		p.Buttons = append(p.Buttons, chat.Button{Label: setup.In(t.Lang()).MeansLabel(m), State: turn.PressState(answer.PressMeans, e.ID, word+"="+m)})
	}
	return []turn.Out{{Post: p}}, nil
}

// PressMeans teaches a word, and advises on the coffee of its shot again.
func PressMeans(t *turn.Turn, e bar.Entry, arg string) ([]turn.Out, error) {
	word, means, _ := strings.Cut(arg, "=")
	if old, ok := t.Bar.Words.Means(word); ok && old == means {
		return nil, nil // tapped twice
	}
	s, ok := e.What.(bar.Shot)
	if !ok {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	if err := ownWords(t, t.Bar.Words.Teach(word, means)); err != nil {
		return nil, err
	}
	post, err := answer.Again(t, s.Coffee, setup.In(t.Lang()).Taught(word, means))
	return []turn.Out{{Post: post}}, err
}

// PressUnteach forgets a word that was taught.
func PressUnteach(t *turn.Turn, word string) ([]turn.Out, error) {
	if _, ok := t.Bar.Words.Means(word); !ok {
		return nil, nil
	}
	err := ownWords(t, t.Bar.Words.Forget(word))
	return t.Says(chat.Recorded, setup.In(t.Lang()).Untaught(word)), err
}

// ownWords changes the bar's own words, so that it can be undone.
func ownWords(t *turn.Turn, words bar.OwnWords) error {
	bar := t.Bar
	bar.Words = words
	err := t.ChangeBar(bar)
	t.Bar = bar
	return err
}

// WordsHelp lists the bar's own words, with a button to forget each of the
// first.
func WordsHelp(t *turn.Turn) ([]turn.Out, error) {
	list := t.Bar.Words.List()
	p := t.Post(chat.Info, setup.In(t.Lang()).OwnWords(list))
	for _, o := range list[:min(len(list), turn.MaxButtons)] {
		p.Buttons = append(p.Buttons, chat.Button{Label: setup.In(t.Lang()).UnteachLabel(o.Word), State: turn.PressState(answer.PressUnteach, 0, o.Word)})
	}
	return []turn.Out{{Post: p}}, nil
}

// Taught returns the words with the one that /setup names taught or forgotten.
func Taught(l say.Lang, words bar.OwnWords, word, means string) (bar.OwnWords, error) {
	key := bar.Normal(word)
	switch {
	case means == "":
		return words, parse.Mistake{Kind: parse.MissingOption, What: "means", Would: "sour, bitter, thin, nice, any other word of taste, nothing or forget"}
	case key == "" || strings.Contains(key, " ") || len(key) > say.MaxName:
		return words, parse.Mistake{Kind: parse.BadOption, What: "word:" + word, Would: "one word"}
	case strings.EqualFold(means, "forget"):
		return words.Forget(key), nil
	case parse.None(means), strings.EqualFold(means, "nothing"):
		return words.Teach(key, ""), nil
	}
	read, unread := taste.Default().Read(means)
	if len(read) != 1 || len(unread) > 0 || read[0].Not || read[0].Than || read[0].Degree != 1 {
		return words, parse.Mistake{Kind: parse.BadOption, What: "means:" + means, Would: "one word of taste that I know, nothing or forget"}
	}
	if known, _ := taste.Default().Read(key); len(known) > 0 {
		return words, turn.Mistake(setup.In(l).KnownWord(word))
	}
	return words.Teach(key, read[0].Term), nil
}
