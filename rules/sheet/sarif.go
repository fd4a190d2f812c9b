package sheet

import (
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/rules"
)

// SARIF 2.1.0 (Static Analysis Results Interchange Format, OASIS standard): the
// parts of it that are written. A finding that a sample has settled is a
// suppressed result with its justification; the changes that were tried are its
// fixes, as replacements in the garment's file.
type (
	sarifLog struct {
		Schema  string     `json:"$schema"`
		Version string     `json:"version"`
		Runs    []sarifRun `json:"runs"`
	}
	sarifRun struct {
		Tool struct {
			Driver sarifDriver `json:"driver"`
		} `json:"tool"`
		ColumnKind  string            `json:"columnKind"`
		Invocations []sarifInvocation `json:"invocations,omitempty"`
		Results     []sarifResult     `json:"results"`
	}
	// sarifInvocation says of a run what it could not read.
	sarifInvocation struct {
		Successful    bool                `json:"executionSuccessful"`
		Notifications []sarifNotification `json:"toolExecutionNotifications"`
	}
	sarifNotification struct {
		Level     string          `json:"level"`
		Message   sarifText       `json:"message"`
		Locations []sarifLocation `json:"locations"`
	}
	sarifDriver struct {
		Name  string      `json:"name"`
		Rules []sarifRule `json:"rules"`
	}
	sarifRule struct {
		ID      string    `json:"id"`
		Short   sarifText `json:"shortDescription"`
		Full    sarifText `json:"fullDescription"`
		Help    sarifText `json:"help"`
		Default struct {
			Level string `json:"level"`
		} `json:"defaultConfiguration"`
	}
	sarifText struct {
		Text string `json:"text"`
	}
	sarifResult struct {
		Rule         string             `json:"ruleId"`
		Index        int                `json:"ruleIndex"`
		Level        string             `json:"level"`
		Message      sarifText          `json:"message"`
		Locations    []sarifLocation    `json:"locations"`
		Related      []sarifLocation    `json:"relatedLocations,omitempty"`
		Fixes        []sarifFix         `json:"fixes,omitempty"`
		Suppressions []sarifSuppression `json:"suppressions"`
		Fingerprints map[string]string  `json:"partialFingerprints"`
		Properties   sarifProperties    `json:"properties"`
	}
	sarifLocation struct {
		Physical *sarifPhysical `json:"physicalLocation,omitempty"`
		Logical  []sarifLogical `json:"logicalLocations,omitempty"`
		Message  *sarifText     `json:"message,omitempty"`
	}
	sarifPhysical struct {
		Artifact sarifArtifact `json:"artifactLocation"`
		Region   *sarifRegion  `json:"region,omitempty"`
	}
	sarifArtifact struct {
		URI string `json:"uri"`
	}
	sarifRegion struct {
		Line      int `json:"startLine"`
		Column    int `json:"startColumn"`
		EndLine   int `json:"endLine,omitempty"`
		EndColumn int `json:"endColumn,omitempty"`
	}
	sarifLogical struct {
		Name string `json:"fullyQualifiedName"`
		Kind string `json:"kind"`
	}
	sarifFix struct {
		Description sarifText     `json:"description"`
		Changes     []sarifChange `json:"artifactChanges"`
	}
	sarifChange struct {
		Artifact     sarifArtifact      `json:"artifactLocation"`
		Replacements []sarifReplacement `json:"replacements"`
	}
	sarifReplacement struct {
		Deleted  sarifRegion `json:"deletedRegion"`
		Inserted *sarifText  `json:"insertedContent,omitempty"`
	}
	sarifSuppression struct {
		Kind          string `json:"kind"`
		Status        string `json:"status"`
		Justification string `json:"justification"`
	}
	// sarifProperties are what the format has no place for.
	sarifProperties struct {
		Garment  string   `json:"garment"`
		Closures []string `json:"closures"`
		Sizes    []string `json:"sizes"`
	}
)

// sarifSchema is where the standard says its schema is.
const sarifSchema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json"

// writeSARIF writes what was found as a SARIF log of one run.
func writeSARIF(sheets []*Garment, unread []Unread) (string, error) {
	log := sarifLog{Schema: sarifSchema, Version: "2.1.0", Runs: make([]sarifRun, 1)}
	run := &log.Runs[0]
	run.ColumnKind, run.Results = "unicodeCodePoints", []sarifResult{}
	run.Tool.Driver = sarifDriver{"placketeer", []sarifRule{}}
	if len(unread) > 0 {
		run.Invocations = []sarifInvocation{{Notifications: []sarifNotification{}}}
	}
	for _, u := range unread {
		for _, f := range u.Errors {
			says := f.Message
			if f.Write != nil {
				says += "; write " + *f.Write
			}
			at := &sarifPhysical{Artifact: sarifArtifact{fileURI(f.File)}}
			if f.Line != nil {
				at.Region = &sarifRegion{Line: *f.Line, Column: *f.Column}
			}
			n := &run.Invocations[0].Notifications
			*n = append(*n, sarifNotification{"error", sarifText{says}, []sarifLocation{{Physical: at}}})
		}
	}
	var names []string
	for _, s := range sheets {
		for _, e := range slices.Concat(s.found, s.settled) {
			names = append(names, e.Rule)
		}
	}
	slices.Sort(names)
	names = slices.Compact(names)
	read := measure.NoUnit // the texts of rules are in that of their sources
	if len(sheets) > 0 && sheets[0].unit.IsAlone() {
		read = sheets[0].unit
	}
	for _, name := range names {
		run.Tool.Driver.Rules = append(run.Tool.Driver.Rules, sarifRuleOf(rules.Find(name), read))
	}
	for _, s := range sheets {
		for _, e := range slices.Concat(s.found, s.settled) {
			r := s.sarif(&e)
			r.Index = slices.Index(names, e.Rule)
			run.Results = append(run.Results, r)
		}
	}
	return writeJSON(log)
}

func sarifRuleOf(r *rules.Rule, u measure.Unit) sarifRule {
	x := r.Explained(u)
	out := sarifRule{ID: x.Name, Short: sarifText{x.Title}, Full: sarifText{or(x.Why, x.Title)}, Help: sarifText{or(x.Formula, x.Title)}}
	out.Default.Level = sarifLevel(r.Severity)
	return out
}

func sarifLevel(s rules.Severity) string {
	switch s {
	case rules.Conflict:
		return "error"
	case rules.Caution:
		return "warning"
	}
	return "note"
}

// sarif is a cause as a result.
func (s *Garment) sarif(e *rules.Entry) sarifResult {
	where, also := s.where(e)
	says := e.Message()
	if where != "" {
		says = where + ": " + says
	}
	if len(also) > 0 {
		says += " Also " + strings.Join(also, "; ") + "."
	}
	out := sarifResult{
		Rule: e.Rule, Level: sarifLevel(e.Severity), Message: sarifText{says},
		Locations: []sarifLocation{s.sarifAt(e.Pos)}, Suppressions: []sarifSuppression{},
		Fingerprints: map[string]string{"finding/v1": strings.Join([]string{e.Rule, s.File, e.Closure, e.Path()}, "|")},
		Properties:   sarifProperties{s.Garment, list(e.Closures()), list(e.Sizes())},
	}
	if key := e.Path(); key != "" {
		out.Locations[0].Logical = []sarifLogical{{s.plan.Garment.KeyOf(key), "member"}}
	}
	for i := range e.Related {
		r := &e.Related[i]
		at := s.sarifAt(r.Pos)
		at.Message = &sarifText{r.Says}
		out.Related = append(out.Related, at)
	}
	for i := range e.Fixes {
		if x := &e.Fixes[i]; len(x.Lines) > 0 && s.File != catalog.StdinName {
			out.Fixes = append(out.Fixes, sarifFix{
				sarifText{fixSays(x)},
				[]sarifChange{{sarifArtifact{fileURI(s.File)}, replacements(s.plan.Garment.Text(), x.Lines)}},
			})
		}
	}
	if e.Settled != "" {
		out.Suppressions = []sarifSuppression{{"inSource", "accepted", e.Settled}}
	}
	return out
}

// sarifAt is a place. The standard input is none, and what was changed on the
// command line stands at no line of the file.
func (s *Garment) sarifAt(p source.Pos) sarifLocation {
	if p.File == "" || strings.HasPrefix(p.File, "--with ") {
		p = source.Pos{File: s.File}
	}
	if p.File == catalog.StdinName {
		return sarifLocation{}
	}
	at := &sarifPhysical{Artifact: sarifArtifact{fileURI(p.File)}}
	if p.Line > 0 {
		at.Region = &sarifRegion{Line: p.Line, Column: max(p.Column, 1)}
	}
	return sarifLocation{Physical: at}
}

// fileURI is a file as a reference (RFC 3986): relative as it was given.
func fileURI(name string) string {
	if filepath.IsAbs(name) {
		name = "/" + strings.TrimPrefix(filepath.ToSlash(name), "/")
		return (&url.URL{Scheme: "file", Path: name}).String()
	}
	return (&url.URL{Path: filepath.ToSlash(name)}).String()
}

// replacements are changes of lines as regions of the text as it is: a line in
// the place of another, or new ones below the end of one.
func replacements(text string, lines []source.Edit) []sarifReplacement {
	end := "\n"
	if strings.Contains(text, "\r\n") {
		end = "\r\n"
	}
	rows := strings.Split(strings.ReplaceAll(strings.TrimPrefix(text, "\ufeff"), "\r\n", "\n"), "\n")
	wide := func(n int) int { // one behind the last column of a line
		if n > len(rows) {
			return 1
		}
		return utf8.RuneCountInString(rows[n-1]) + 1
	}
	out := []sarifReplacement{}
	last := -1 // below which line the one before is put
	for _, l := range lines {
		switch {
		case !l.Insert:
			out = append(out, sarifReplacement{sarifRegion{l.Line, 1, l.Line, wide(l.Line)}, &sarifText{l.Text}})
			last = -1
			continue
		case l.Line == last:
			if t := out[len(out)-1].Inserted; l.Line == 0 {
				t.Text += l.Text + end
			} else {
				t.Text += end + l.Text
			}
			continue
		case l.Line == 0:
			out = append(out, sarifReplacement{sarifRegion{1, 1, 1, 1}, &sarifText{l.Text + end}})
		default:
			out = append(out, sarifReplacement{sarifRegion{l.Line, wide(l.Line), l.Line, wide(l.Line)}, &sarifText{end + l.Text}})
		}
		last = l.Line
	}
	return out
}
