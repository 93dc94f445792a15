# claimed-gain: what the assumed model claims of each taper against what virtual
# athletes truly gain; on the dashed line both are the same.
#
# Needs
#   title, subtitle   strings
#   gain_label        string, the unit of both axes
#   tapers_count      1 to 16
#   taper_name_1 ..   strings, as many
#   $gains            rows: mean true gain, half its 95 % interval, claimed
#                     gain, low and high end of its 90 % range (NaN: none)
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

tapers = int(tapers_count)
low = 0
high = 0
array known[16]
do for [i = 1:tapers] {
    known[i] = take(field($gains[i], 1)) * take(field($gains[i], 3))
    dummy = take(field($gains[i], 4)) + take(field($gains[i], 5)) + take(field($gains[i], 1) - field($gains[i], 2)) + take(field($gains[i], 1) + field($gains[i], 2))
}
dummy = wide(0.06)
y_low = low
y_high = high
low = 0
high = 0
dummy = sum [i = 1:tapers] (take(field($gains[i], 1) - field($gains[i], 2)) + take(field($gains[i], 1) + field($gains[i], 2)))
dummy = wide(0.15)
x_low = low
x_high = high
array colour[8] = [c_black, c_blue, c_vermillion, c_green, c_orange, c_purple, c_sky, c_grey]
array symbol[8] = [7, 5, 9, 13, 6, 4, 8, 12]
look(i) = (i - 1) % 8 + 1
hue(i) = i > 8 ? 9 - look(i) : look(i)
set xrange [x_low:x_high]
set yrange [y_low:y_high]
set format '%.6g'
set lmargin at screen 0.10
set rmargin at screen (plain_text ? 0.965 : 0.62)
set tmargin at screen (plain_text ? line(30) : 0.86)
set bmargin at screen (plain_text ? line(tapers > 8 ? 12 : tapers + 4) : 0.15)
set arrow 1 from x_low, x_low to x_high, x_high nohead back linewidth 1.6 linecolor rgb c_grey dashtype (6, 4)
if (plain_text) {
    set label 3 fit('claimed gain, '.gain_label, 80) at screen 0.02, line(32) left
    set xlabel fit('mean true gain, '.gain_label, 80)
    set key at screen 0.98, line(0) right bottom vertical maxrows 8
    plot NaN notitle, \
         for [i = 1:tapers] $gains using (known[i] ? $1 : away):(known[i] ? $3 : 0) every ::i - 1::i - 1 with points pointtype i title fit(value('taper_name_'.i), 36)
} else {
    set grid xtics ytics back linetype 1 linewidth 0.7 linecolor rgb c_rule
    set label 3 fit('claimed gain, '.gain_label, columns * 0.5) at screen 0.022, 0.5 center rotate by 90 font f_small
    set label 4 fit('mean true gain, '.gain_label, columns * 0.5) at screen 0.36, 0.045 center font f_small
    set key at screen 0.635, 0.86 left top vertical maxrows 20 Left reverse samplen 2.5 spacing 1.3
    plot NaN notitle, \
         for [i = 1:tapers] $gains using (known[i] && field($gains[i], 4) == field($gains[i], 4) ? $1 : away):3:4:5 every ::i - 1::i - 1 with yerrorbars pointtype 0 linewidth 2.4 linecolor rgb colour[hue(i)] notitle, \
         for [i = 1:tapers] $gains using (known[i] ? $1 : away):(known[i] ? $3 : 0) every ::i - 1::i - 1 with points pointtype symbol[look(i)] pointsize 1.5 * p linewidth 2 linecolor rgb colour[hue(i)] notitle, \
         for [i = 1:tapers] keyentry with points pointtype symbol[look(i)] pointsize 1.5 * p linewidth 2 linecolor rgb colour[hue(i)] title fit(value('taper_name_'.i), columns * 0.3), \
         keyentry with lines linewidth 1.6 linecolor rgb c_grey dashtype (6, 4) title 'claimed as true', \
         keyentry with lines linewidth 2.4 linecolor rgb c_black title 'upright: 90 % range claimed'
}
