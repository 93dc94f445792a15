# common: what all pictures share: palette, type sizes, frame, title lines and
# the functions that fit text and ranges. Loaded first by every other script;
# draws nothing.
#
# Needs
#   title, subtitle   strings, shown as they are (the terminal is noenhanced)
#   plain_text        1 for the dumb terminal, else 0
#   narrow            [px] height of a picture for a page, 320 px wide, of season,
#                     map, review and one curve of a lesson; else 0. It has no title (the page has one)
#                     and no letters smaller than f_small, which is 12 px
#
# Gives
#   c_NAME            colours (Okabe and Ito's palette, safe for the colour
#                     blind, and greys; orange, sky and purple darker than
#                     theirs, so that every line has 3:1 against white)
#   s_NAME            shades: fills too light to be seen by everybody, so each
#                     has a border that has 3:1
#   f_title, f_small  fonts, by the terminal's own font size
#   p                 factor for the size of points
#   columns           [characters] width of the picture, cautiously
#   fold(s, n)        s, with a line end where n characters are full, between
#                     words where that can be; cut after two lines
#   fit(s, n)         s, cut to n characters with an ellipsis; every string
#                     from outside goes through it
#   font_for(s, n)    font in which s takes no more room than n characters of
#                     f_small; never so small that it cannot be read
#   away              where the points of a series go that is off
#   field(row, k)     k-th number of a row of a block
#   px(n)             share of the height of a narrow picture
#   line(n)           n-th line of the dumb terminal, from below, from 0
#   low, high, take(v), wide(share)
#                     range of the values taken since `low = NaN`
#
# SPDX-License-Identifier: GPL-3.0-or-later

set locale 'C'

c_black = '#000000'
c_orange = '#B87D00'
c_sky = '#2F96D2'
c_green = '#009E73'
c_yellow = '#F0E442'
c_blue = '#0072B2'
c_vermillion = '#D55E00'
c_purple = '#C0679A'
c_grey = '#5A5A5A'
c_rule = '#DADADA'
c_edge = '#767676'
c_pale = '#8A8A8A'
c_bar = '#5B93B5'
s_range = '#C9CED3'
s_event = '#FBE8BF'
s_taper = '#F6F1D3'
s_help = '#BFE5D9'
s_band = '#DCEBF5'
s_never = '#E6E6E6'
c_fitness = c_green
c_fatigue = c_vermillion
c_readiness = c_black

# Sizes go with those that the C code gives to the terminals; pdfcairo shrinks
# its fonts to about 0.6, so they are made larger here to be read on paper.
is_png = GPVAL_TERM eq 'pngcairo'
is_svg = GPVAL_TERM eq 'svg'
is_pdf = GPVAL_TERM eq 'pdfcairo'
if (is_pdf) { set termoption font ',17' }
f_base = is_png ? 16 : is_svg ? 14 : is_pdf ? 17 : 12
if (is_pdf) { set termoption linewidth 1.5 }
p = is_png ? 1.75 : is_svg ? 0.7 : 1.1
f_title = sprintf(',%.1f', 1.2 * f_base)
f_small = sprintf(',%.1f', 0.86 * f_base)
columns = plain_text ? 98 : is_pdf ? 131 : narrow ? 46 : 146
px(n) = n / (narrow > 0 ? 1.0 * narrow : 620.0)

# pango draws a character that no font has as a box as large as the picture
# (gnuplot 5.4 draws at 20 times the size), so in png and pdf only characters
# that DejaVu Sans has are let through; others become □. `all_glyphs = 1`, set
# before, switches this off where fonts for all scripts are installed.
if (!exists('all_glyphs')) { all_glyphs = 0 }
ascii = ' !"#$%&''()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[\]^_`abcdefghijklmnopqrstuvwxyz{|}~'
# First bytes of U+00C0-03FF, 0400-04FF, 05C0-067F; first two bytes of
# U+00A0-00BF, 1E00-1EFF, 2000-20BF, 2100-22FF, 2500-26BF.
leads = "\303\304\305\306\307\310\311\312\313\314\315\316\317\320\321\322\323\327\330\331"
pairs = "\302\240\302\241\302\242\302\243\302\244\302\245\302\246\302\247\302\250\302\251\302\252\302\253\302\254\302\255\302\256\302\257\302\260\302\261\302\262\302\263\302\264\302\265\302\266\302\267\302\270\302\271\302\272\302\273\302\274\302\275\302\276\302\277\341\270\341\271\341\272\341\273\342\200\342\201\342\202\342\204\342\205\342\206\342\207\342\210\342\211\342\212\342\213\342\224\342\225\342\226\342\227\342\230\342\231\342\232"
drawable(c) = strstrt(ascii, c) || strstrt(leads, sprintf('%.1s', c)) || strstrt(pairs, sprintf('%.2s', c)) || strstrt('✓✔✗✘', c)
shown = ''
drawn(s) = (shown = '', \
            dummy = sum [i = 1:strlen(s)] (shown = shown.(drawable(substr(s, i, i)) ? substr(s, i, i) : '□'), 0), \
            shown)
cut(s, n) = strlen(s) > n ? substr(s, 1, int(n) - 1).'…' : s
fit(s, n) = (is_png || is_pdf) && !all_glyphs ? drawn(cut(s, n)) : cut(s, n)

font_for(s, n) = sprintf(',%.1f', f_base * (narrow || strlen(s) <= n ? 0.86 : strlen(s) < n * 1.36 ? 0.86 * n / strlen(s) : 0.632))
line(n) = (n + 0.5) / 36.0

blank = 0
blank_in(s, n) = (blank = 0, \
                  dummy = sum [i = 1:int(n)] (substr(s, i, i) eq ' ' ? (blank = i, 0) : 0), \
                  blank > n / 2 ? blank : int(n))
fold(s, n) = strlen(s) <= n ? fit(s, n) : \
             (at = blank_in(s, n), fit(substr(s, 1, at), n)."\n".fit(substr(s, at + 1, strlen(s)), n))

# Range of values: low = NaN, then take() each, then wide() makes room around
# them and never leaves an empty range. take() gives 1 for a number, else 0.
low = NaN
high = NaN
take(v) = v == v ? (fresh = low != low, \
                    low = (!fresh && low < v) ? low : v, \
                    high = (!fresh && high > v) ? high : v, 1) : 0
wide(share) = low == low ? (gap = high > low ? share * (high - low) : \
                                  high != 0 ? 0.1 * abs(high) : 1, \
                            low = low - gap, high = high + gap, 1) : \
                           (low = 0, high = 1, 0)
# A series without a valid point is warned of on stderr, even in a loop that
# runs no time: the points of a series that is off go far out of sight instead,
# by `using (on ? $1 : away):(on ? $2 : 0)`.
away = -1e12
# real('1e-05') fails for want of a point
dotted(s) = strstrt(s, 'e') && !strstrt(s, '.') ? s[1:strstrt(s, 'e') - 1].'.0'.s[strstrt(s, 'e'):*] : s
field(row, k) = words(row) < k ? NaN : real(dotted(word(row, k)))

# Title and subtitle, from the left edge: in smaller type, then on two lines,
# before anything is cut.
left_edge = plain_text ? 0.02 : 0.022
title_y = plain_text ? line(35) : 0.958
subtitle_y = plain_text ? line(34) : 0.912
whole_line = columns * 0.93
title_font = strlen(title) <= columns * 0.66 ? f_title : font_for(title, whole_line)
title_fit = plain_text ? fit(title, 96) : fold(title, strlen(title) <= columns * 0.66 ? whole_line : whole_line * 1.36)
subtitle_font = font_for(subtitle, whole_line)
subtitle_fit = plain_text ? fold(subtitle, 96) : fold(subtitle, whole_line * 1.36)
if (!narrow) {
    set label 1 title_fit at screen left_edge, title_y left front font title_font
    set label 2 subtitle_fit at screen left_edge, subtitle_y left front font subtitle_font textcolor rgb c_grey
}

if (!plain_text) {
    set border 3 linewidth 1 linecolor rgb c_grey
    set tics nomirror out scale 0.6 font f_small
    set grid ytics back linetype 1 linewidth 0.7 linecolor rgb c_rule
    set style textbox opaque margins 0.4, 0.2 fillcolor rgb '#FFFFFF' noborder
    set key font f_small
} else {
    set tics nomirror
}
