package source

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// slips are mistakes that people make in a file, and what is said of each.
var slips = []struct{ text, want string }{
	{"first = 5/8 in\n", `
f:1:9: a text, or a number with its unit, stands in quotes
  first = 5/8 in
          ^~~~~~
  write: first = "5/8 in"
`},
	{"first = 1 1/8\"\n", `
f:1:9: a text, or a number with its unit, stands in quotes
  first = 1 1/8"
          ^~~~~~
  write: first = "1 1/8 in"
`},
	{"first = 1 1/8”   # c\n", `
f:1:9: a text, or a number with its unit, stands in quotes
  first = 1 1/8”   # c
          ^~~~~~
  write: first = "1 1/8 in"
`},
	{"name = “front”\n", `
f:1:8: curly quotes cannot enclose a text, only straight ones "
  name = “front”
         ^~~~~~~
  write: name = "front"
`},
	{"use = melton # x\n", `
f:1:7: a text, or a number with its unit, stands in quotes
  use = melton # x
        ^~~~~~
  write: use = "melton"
`},
	{"thickness = 2,4 mm ± 0.2\n", `
f:1:13: decimals take a point, not a comma
  thickness = 2,4 mm ± 0.2
              ^~~~~~~~~~~~
  write: thickness = "2.4 mm ± 0.2"
`},
	{"shrink = 2,5\n", `
f:1:10: decimals take a point, not a comma
  shrink = 2,5
           ^~~
  write: shrink = 2.5
`},
	{"even = Yes\n", `
f:1:8: yes and no are written true and false
  even = Yes
         ^~~
  write: even = true
`},
	{"first \"5/8 in\"\n", `
f:1:1: there is no = after first
  first "5/8 in"
  ^~~~~
  write: first = "5/8 in"
`},
	{"count 5\n", `
f:1:1: there is no = after count
  count 5
  ^~~~~
  write: count = 5
`},
	{"first: \"5/8 in\"\n", `
f:1:6: between a key and its value stands =, not :
  first: "5/8 in"
       ^
  write: first = "5/8 in"
`},
	{"turn under = \"1/2 in\"\n", `
f:1:1: a key is made of the letters a to z, digits, _ and -; any other stands in quotes
  turn under = "1/2 in"
  ^~~~~~~~~~
  write: turn_under = "1/2 in"
`},
	{"garment = \"Coat\n", `
f:1:11: the text has no closing "
  garment = "Coat
            ^~~~~
  write: garment = "Coat"
`},
	{"garment = \"Coat # best\n", `
f:1:11: the text has no closing "
  garment = "Coat # best
            ^~~~~~~~~~~~
  write: garment = "Coat"
`},
	{"garment = \"Coat”\n", `
f:1:11: the text begins with " and ends with a curly quote
  garment = "Coat”
            ^~~~~~
  write: garment = "Coat"
`},
	{"name = 'sailor's coat'\n", `
f:1:16: the text ends at the second ', nothing can follow it
  name = 'sailor's coat'
                 ^~~~~~~
  write: name = "sailor's coat"
`},
	{"first = \"1 1/8\"\"\n", `
f:1:16: the text ends at the second ", nothing can follow it
  first = "1 1/8""
                 ^
  write: first = '1 1/8"'
`},
	{"first = \"5/8\" in\n", `
f:1:15: the text ends at the second ", nothing can follow it
  first = "5/8" in
                ^~
  write: first = "5/8 in"
`},
	{"a = 1, \n", `
f:1:6: there is no , at the end of a line
  a = 1,
       ^
  write: a = 1
`},
	{"a = \"x\",\n", `
f:1:8: there is no , at the end of a line
  a = "x",
         ^
  write: a = "x"
`},
	{"[closure\nname = 1\n", `
f:1:1: the heading has no closing ]
  [closure
  ^~~~~~~~
  write: [closure]
`},
	{"[[closure]\n", `
f:1:1: the heading begins with two brackets and ends with one
  [[closure]
  ^~~~~~~~~~
  write: [[closure]]
`},
	{"[closure]]\n", `
f:1:1: the heading has more closing brackets than opening ones
  [closure]]
  ^~~~~~~~~~
  write: [[closure]]
`},
	{"[closure front]\n", `
f:1:1: a name in a heading is made of the letters a to z, digits, _ and -; any other stands in quotes
  [closure front]
  ^~~~~~~~~~~~~~~
  write: [closure-front]
`},
	{"[[closure]]\na=1\n[closure]\n", `
f:3:1: [[closure]] on line 1 has double brackets, so this one takes them too
  [closure]
  ^~~~~~~~~
  write: [[closure]]
`},
	{"[closure]\nname=\"a\"\n[closure]\nname=\"b\"\n", `
f:3:1: [closure] already stands on line 1; if there are several, each takes double brackets
  [closure]
  ^~~~~~~~~
  write: its keys below line 1, or [[closure]] at both
`},
	{"over = [\"shell\", \"front\"\nunder = [\"shell\"]\n", `
f:1:8: the list that begins here has no closing ]
  over = ["shell", "front"
         ^
  write: over = ["shell", "front"]
`},
	{"over = [\"shell\" \"front\"]\n", `
f:1:17: a comma is missing before this
  over = ["shell" "front"]
                  ^
  write: "shell", "front"]
`},
	{"over = [\"shell\", \"front]\n", `
f:1:18: the text has no closing "
  over = ["shell", "front]
                   ^~~~~~~
  write: "front"
`},
	{"over = [\"shell\", front]\n", `
f:1:18: a text, or a number with its unit, stands in quotes
  over = ["shell", front]
                   ^~~~~
  write: "front"
`},
	{"over = [\n  \"shell\"\n  \"front\"\n]\n", `
f:2:9: after this a comma is missing, or the ] that closes the list
    "shell"
          ^
`},
	{"gap = { min = \"3 in\" max = \"4 in\" }\n", `
f:1:22: a comma is missing before this
  gap = { min = "3 in" max = "4 in" }
                       ^
  write: min = "3 in", max = "4 in" }
`},
	{"gap = { min = 3 in, max = \"4 in\" }\n", `
f:1:15: a text, or a number with its unit, stands in quotes
  gap = { min = 3 in, max = "4 in" }
                ^~~~
  write: min = "3 in"
`},
	{"gap = { min = 2,5, max = 3 }\n", `
f:1:15: decimals take a point, not a comma
  gap = { min = 2,5, max = 3 }
                ^~~
  write: min = 2.5
`},
	{"gap = { min = 2,5 mm, max = 3 }\n", `
f:1:15: decimals take a point, not a comma
  gap = { min = 2,5 mm, max = 3 }
                ^~~~~~
  write: min = "2.5 mm"
`},
	{"gap = { min = \"3 in\", max = \"4 in\"\n[x]\n", `
f:1:7: the table that begins here has no closing }
  gap = { min = "3 in", max = "4 in"
        ^
  write: gap = { min = "3 in", max = "4 in" }
`},
	{"gap = { min = 1 ]\n", `
f:1:17: the table that begins with { on line 1 ends with ]
  gap = { min = 1 ]
                  ^
  write: }
`},
	{"anchor = [ { name = \"bust\", at = \"8\" in, within = 1 } ]\n", `
f:1:38: the text ends at the second ", nothing can follow it
  anchor = [ { name = "bust", at = "8" in, within = 1 } ]
                                       ^~
  write: at = "8 in"
`},
	{"  first = .5\n", `
f:1:11: a number begins with a digit
    first = .5
            ^~
  write: first = 0.5
`},
	{"a = 5.\n", `
f:1:5: a number does not end with a point
  a = 5.
      ^~
  write: a = 5
`},
	{"a = 05\n", `
f:1:5: a number does not begin with a zero
  a = 05
      ^~
  write: a = 5
`},
	{"a = 99999999999999999999\n", `
f:1:5: the number is too large
  a = 99999999999999999999
      ^~~~~~~~~~~~~~~~~~~~
`},
	{"path = \"C:\\coat\\x\"\n", `
f:1:11: \c means nothing: in "…" a \ begins a code, in '…' it is an ordinary sign
  path = "C:\coat\x"
            ^~
  write: path = 'C:\coat\x'
`},
	{"\u00a0first = 1\n", `
f:1:1: here stands the invisible character U+00A0, often copied from a web page; write a blank or nothing
   first = 1
  ^
`},
	{"first\u00a0= 1\n", `
f:1:6: here stands the invisible character U+00A0, often copied from a web page; write a blank or nothing
  first = 1
       ^
`},
	{"first = \u00a01\n", `
f:1:9: here stands the invisible character U+00A0, often copied from a web page; write a blank or nothing
  first =  1
          ^
`},
	{"// comment\n", `
f:1:1: a comment begins with #
  // comment
  ^~~~~~~~~~
  write: # comment
`},
	{"; comment\n", `
f:1:1: a comment begins with #
  ; comment
  ^~~~~~~~~
  write: # comment
`},
	{"- name: x\n", `
f:1:1: - is out of place here
  - name: x
  ^~
`},
	{"größe = 5\n", `
f:1:1: a key is made of the letters a to z, digits, _ and -; any other stands in quotes
  größe = 5
  ^~~~~
  write: "größe" = 5
`},
	{"“name” = 5\n", `
f:1:1: curly quotes cannot enclose a key, and a plain key needs none
  “name” = 5
  ^~~~~~
  write: name = 5
`},
	{"a.b = 1\na.b.c = 2\n", `
f:2:3: a.b is a single value on line 1, so nothing can stand in it
  a.b.c = 2
    ^
`},
	{"weight = 620 g/m2\n", `
f:1:10: a text, or a number with its unit, stands in quotes
  weight = 620 g/m2
           ^~~~~~~~
  write: weight = "620 g/m2"
`},
	{"weight = 18.3 oz/yd2 # c\n", `
f:1:10: a text, or a number with its unit, stands in quotes
  weight = 18.3 oz/yd2 # c
           ^~~~~~~~~~~
  write: weight = "18.3 oz/yd2"
`},
	{"at = 8,5 in\n", `
f:1:6: decimals take a point, not a comma
  at = 8,5 in
       ^~~~~~
  write: at = "8.5 in"
`},
	{"x = [8,5 in]\n", `
f:1:6: decimals take a point, not a comma
  x = [8,5 in]
       ^~~~~~
  write: "8.5 in"
`},
	{"x = [2,5 mm, 3]\n", `
f:1:6: decimals take a point, not a comma
  x = [2,5 mm, 3]
       ^~~~~~
  write: "2.5 mm"
`},
	{"<html>\n", `
f:1:1: < is out of place here
  <html>
  ^
`},
	{"{\"garment\": \"x\"}\n", `
f:1:1: { is out of place here
  {"garment": "x"}
  ^
`},
	{"garment = \"a\"; units = \"in\"\n", `
f:1:16: a key needs a line of its own
  garment = "a"; units = "in"
                 ^~~~~~~~~~~~
  write: units = "in"
`},
	{"units = \"in\" wearer = \"adult\"\n", `
f:1:14: a key needs a line of its own
  units = "in" wearer = "adult"
               ^~~~~~~~~~~~~~~~
  write: wearer = "adult"
`},
	{"a = 1 b = 2\n", `
f:1:7: a key needs a line of its own
  a = 1 b = 2
        ^
  write: b = 2
`},
	{"[a] x = 1\n", `
f:1:5: a heading stands on a line of its own
  [a] x = 1
      ^~~~~
  write: [a]
`},
	{"x = \"\"\"abc\n", `
f:1:5: the text that begins here is never closed
  x = """abc
      ^~~
`},
	{"first = 1 1/8'' \n", `
f:1:9: a text, or a number with its unit, stands in quotes
  first = 1 1/8''
          ^~~~~~~
  write: first = "1 1/8 in"
`},
	{"first = 1-1/8\n", `
f:1:9: a text, or a number with its unit, stands in quotes
  first = 1-1/8
          ^~~~~
  write: first = "1-1/8"
`},
	{"[[closure]]\nname = \"x\"\n[closure.run.]\n", `
f:3:1: a name in a heading is made of the letters a to z, digits, _ and -; any other stands in quotes
  [closure.run.]
  ^~~~~~~~~~~~~~
  write: [closure.run]
`},
	{"a = [1,2,,3]\n", `
f:1:10: there is a comma with nothing before it
  a = [1,2,,3]
           ^
`},
	{"a = {,}\n", `
f:1:6: there is a comma with nothing before it
  a = {,}
       ^
`},
	{"]\n", `
f:1:1: ] is out of place here
  ]
  ^
`},
	{"=5\n", `
f:1:1: there is no key before the =
  =5
  ^
`},
	{"first\n", `
f:1:1: a key needs = and a value after it
  first
  ^~~~~
  write: first = "…"
`},
	{"closure = 1\n[[closure]]\n", `
f:2:1: closure is already given on line 1
  [[closure]]
  ^~~~~~~~~~~
`},
	{"closure = [1]\n[closure.run]\n", `
f:2:2: closure is a list in [ ] on line 1; nothing can be added to it
  [closure.run]
   ^~~~~~~
`},
	{"a = =5\n", `
f:1:5: = is out of place here
  a = =5
      ^
`},
	{"a == 5\n", `
f:1:4: = is out of place here
  a == 5
     ^
`},
	{"temp = 150°C\n", `
f:1:8: a text, or a number with its unit, stands in quotes
  temp = 150°C
         ^~~~~
  write: temp = "150°C"
`},
	{"temp = ±0.5\n", `
f:1:8: a text, or a number with its unit, stands in quotes
  temp = ±0.5
         ^~~~
  write: temp = "±0.5"
`},
	{"x = [[1,2]\n", `
f:1:5: the list that begins here has no closing ]
  x = [[1,2]
      ^
  write: x = [[1,2]]
`},
	{"text = \"\"\"a\\q\"\"\"\n", `
f:1:12: \q means nothing: a \ begins a code, and \ itself is written twice
  text = """a\q"""
             ^~
`},
	{"name = \"front\\\n", `
f:1:8: the text has no closing "
  name = "front\
         ^~~~~~~
  write: name = "front"
`},
	{"gap = { min = }\n", `
f:1:9: there is no value after min =
  gap = { min = }
          ^~~~~~
  write: min = "…"
`},
	{"over = [}\n", `
f:1:9: } is out of place here
  over = [}
          ^
`},
	{"sizes = [1 2 3]\n", `
f:1:10: between the items of a list stand commas
  sizes = [1 2 3]
           ^~~~~
  write: 1, 2, 3
`},
	{"[closure\u00a0run]\n", `
f:1:9: here stands the invisible character U+00A0, often copied from a web page; write a blank or nothing
  [closure run]
          ^
`},
	{"[[[closure]]]\n", `
f:1:1: a heading has one bracket or two on either side
  [[[closure]]]
  ^~~~~~~~~~~~~
  write: [[closure]]
`},
	{"count = 5;\n", `
f:1:10: there is no ; at the end of a line
  count = 5;
           ^
  write: count = 5
`},
	{"first = 5/8 in,\n", `
f:1:15: there is no , at the end of a line
  first = 5/8 in,
                ^
  write: first = "5/8 in"
`},
	{"over = [\"shell\"] # ok\nunder = [\"shell\"] \"front\"\n", `
f:2:19: nothing can follow the value on its line
  under = ["shell"] "front"
                    ^~~~~~~
  write: under = ["shell"]
`},
	{"\"garment = 5\n", `
f:1:1: the text has no closing "
  "garment = 5
  ^~~~~~~~~~~~
`},
	{"name = 'front\"\n", `
f:1:8: the text begins with ' and ends with "
  name = 'front"
         ^~~~~~~
  write: name = "front"
`},
	{"over = [\n  \"shell\",\n  \"front\"\n", `
f:1:8: the list that begins here has no closing ]
  over = [
         ^
`},
	{"over = [\n  \"shell\",\n  \"front\"\n[closure.stand]\nseam = 1\n", `
f:1:8: the list that begins here has no closing ]
  over = [
         ^
`},
	{"over = [\n  \"shell\"\nunder = [\"shell\"]\n", `
f:1:8: the list that begins here has no closing ]
  over = [
         ^
`},
	{"gap = {\n  min = 3,\n  max = 4\n[x]\n", `
f:1:7: the table that begins here has no closing }
  gap = {
        ^
`},
	{"gap = { min = \"3 in\" [x] }\n", `
f:1:22: a comma is missing before this
  gap = { min = "3 in" [x] }
                       ^
  write: min = "3 in", [x] }
`},
	{"[a.]\n", `
f:1:1: a name in a heading is made of the letters a to z, digits, _ and -; any other stands in quotes
  [a.]
  ^~~~
  write: [a]
`},
	{"[\"a\" b]\n", `
f:1:1: a name in a heading is made of the letters a to z, digits, _ and -; any other stands in quotes
  ["a" b]
  ^~~~~~~
`},
	{"[]\n", `
f:1:1: there is no name in the heading
  []
  ^~
`},
	{"a.\n", `
f:1:1: a name is missing after the point
  a.
  ^~
`},
	{"a. = 1\n", `
f:1:1: a name is missing after the point
  a. = 1
  ^~~
`},
	{"yes\n", `
f:1:1: a key needs = and a value after it
  yes
  ^~~
  write: yes = "…"
`},
	{"name front\n", `
f:1:1: there is no = after name
  name front
  ^~~~
  write: name = "front"
`},
	{"name = “front”s\n", `
f:1:8: curly quotes cannot enclose a text, only straight ones "
  name = “front”s
         ^~~~~~~~
  write: name = "front”s"
`},
	{"name = front\"\n", `
f:1:8: a quote is missing before the text
  name = front"
         ^~~~~~
  write: name = "front"
`},
	{"even = off\n", `
f:1:8: yes and no are written true and false
  even = off
         ^~~
  write: even = false
`},
	{"name = \"it's 5\" wide\"\n", `
f:1:17: the text ends at the second ", nothing can follow it
  name = "it's 5" wide"
                  ^~~~~
  write: name = "it's 5\" wide"
`},
	{"a = [\n[closure]\n", `
f:1:5: the list that begins here has no closing ]
  a = [
      ^
  write: a = []
`},
	{"a = [[1, 2],\n  [true]\n", `
f:1:5: the list that begins here has no closing ]
  a = [[1, 2],
      ^
`},
	{"name = \"a\" = 2\n", `
f:1:12: the text ends at the second ", nothing can follow it
  name = "a" = 2
             ^~~
  write: name = "a = 2"
`},
	{"a = \"\"\"x\"\"\" y\n", `
f:1:13: the text ends at the second """, nothing can follow it
  a = """x""" y
              ^
`},
	{"size = { S = \"1 in\", S = \"2 in\" }\n", `
f:1:22: size.S is already given on line 1
  size = { S = "1 in", S = "2 in" }
                       ^
`},
	{"stand.seam = 1\n[stand]\nfirst = 2\n", `
f:2:1: stand is already given on line 1
  [stand]
  ^~~~~~~
`},
	{"[closure.run]\n[[closure]]\n", `
f:2:1: closure is one table on line 1, so it cannot be one of several
  [[closure]]
  ^~~~~~~~~~~
`},
	{"[[a]]\n[b]\n[a.c]\n[a.c]\n", `
f:4:1: [a.c] already stands on line 3 for the same a: a [[a]] is missing above this one
  [a.c]
  ^~~~~
  write: [[a]] on a line of its own above, and its keys
`},
	{"unïts = 5\n", `
f:1:1: a key is made of the letters a to z, digits, _ and -; any other stands in quotes
  unïts = 5
  ^~~~~
  write: "unïts" = 5
`},
	{"x = 1__0\n", `
f:1:5: a text, or a number with its unit, stands in quotes
  x = 1__0
      ^~~~
  write: x = "1__0"
`},
	{"t = 25:61\n", `
f:1:5: a text, or a number with its unit, stands in quotes
  t = 25:61
      ^~~~~
  write: t = "25:61"
`},
	{"x = 0x\n", `
f:1:5: a text, or a number with its unit, stands in quotes
  x = 0x
      ^~
  write: x = "0x"
`},
	{"=\n", `
f:1:1: there is no key before the =
  =
  ^
`},
	{"x = ?\n", `
f:1:5: ? is out of place here
  x = ?
      ^
`},
	{"\"a\\qb\" = 1\n", `
f:1:3: \q means nothing: in "…" a \ begins a code, in '…' it is an ordinary sign
  "a\qb" = 1
    ^~
`},
	{"x = \"5 \\in\" # it's\n", `
f:1:8: \i means nothing: in "…" a \ begins a code, in '…' it is an ordinary sign
  x = "5 \in" # it's
         ^~
  write: x = '5 \in'
`},
	{"name = \"back\\slash's\"\n", `
f:1:13: \s means nothing: a \ begins a code, and \ itself is written twice
  name = "back\slash's"
              ^~
`},
	{"a = [ { n = 1 } { n = 2 } ]\n", `
f:1:17: a comma is missing before this
  a = [ { n = 1 } { n = 2 } ]
                  ^
  write: , { n = 2 } ]
`},
	{"a = { b = [1 }\n", `
f:1:14: the list that begins with [ on line 1 ends with }
  a = { b = [1 }
               ^
  write: ]
`},
	{"'''a''' = 1\n", `
f:1:1: a key stands in one pair of quotes, or in none
  '''a''' = 1
  ^~~
`},
	{"abc\"def\" = 1\n", `
f:1:1: a key is made of the letters a to z, digits, _ and -; any other stands in quotes
  abc"def" = 1
  ^~~~~~~~~~~~
`},
	{"a = 1\n---\nb = 2\n", `
f:2:1: --- is out of place here
  ---
  ^~~
`},
	{"# ok\n  * item\n", `
f:2:3: * is out of place here
    * item
    ^
`},
	{"x = [1, 2 # c\n", `
f:1:5: the list that begins here has no closing ]
  x = [1, 2 # c
      ^
  write: x = [1, 2]
`},
	{"first = ’5’\n", `
f:1:9: curly quotes cannot enclose a text, only straight ones "
  first = ’5’
          ^~~
  write: first = "5"
`},
	{"gap = { min = 3, max = 4 } in\n", `
f:1:28: nothing can follow the value on its line
  gap = { min = 3, max = 4 } in
                             ^~
  write: gap = { min = 3, max = 4 }
`},
}

func TestSlips(t *testing.T) {
	for _, s := range slips {
		// The same further down, with line ends of both kinds and after a
		// byte order mark: only the line numbers differ.
		for _, text := range []string{s.text, strings.ReplaceAll(s.text, "\n", "\r\n"), "\ufeff" + s.text} {
			_, err := Parse("f", []byte(text))
			ps, ok := err.(Problems)
			if !ok {
				t.Errorf("%q: error %v", text, err)
				continue
			}
			var b strings.Builder
			if err := ps.Render(&b); err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(s.want, "\n"+b.String()); diff != "" {
				t.Errorf("%q (-want +got)\n%s", text, diff)
			}
		}
	}
}
