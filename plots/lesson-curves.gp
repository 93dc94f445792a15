# lesson-curves: a teaching figure for a projector: up to eight curves, told
# apart by dashes and symbols as well as by colour.
#
# Needs
#   title, subtitle, x_label, y_label
#                     strings
#   t_n, t_g          marked days on the horizontal axis; NaN: not marked
#   shade             1: below and above 0 of the first curve are shaded
#   curves_count      1 to 8
#   curve_name_1 ..   strings, as many
#   $curves           rows: x, then y of each curve
#   marks_count       measured points; 0: none
#   mark_name         string: what they are
#   $marks            rows: x, y, error up and down
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

total = int(curves_count)
low = NaN
do for [k = 1:total] { known = sum [i = 1:|$curves|] take(field($curves[i], k + 1)) }
if (shade) { dummy = take(0) }
do for [i = 1:int(marks_count)] { known = take(field($marks[i], 2) - field($marks[i], 3)) + take(field($marks[i], 2) + field($marks[i], 3)) }
dummy = wide(0.06)
has_zero = low < 0 && high > 0
y_low = low
y_high = high
low = NaN
dummy = sum [i = 1:|$curves|] take(field($curves[i], 1))
set xrange [low:high]
set yrange [y_low:y_high]
set format y '%.5g'

array colour[8] = [c_black, c_blue, c_vermillion, c_green, c_orange, c_purple, c_sky, c_grey]
set dashtype 1 solid
set dashtype 2 (16, 6)
set dashtype 3 (9, 6)
set dashtype 4 solid
set dashtype 5 (3, 4)
set dashtype 6 (16, 5, 3, 5)
set dashtype 7 (6, 3)
set dashtype 8 (16, 4, 3, 4, 3, 4)
array thick[8] = [4.2, 3.6, 3.4, 2.4, 3.6, 3, 3, 2.4]
array symbol[8] = [7, 5, 9, 4, 6, 11, 8, 2]
# Fitness and fatigue look the same in every picture.
array dashes[8] = [1, 2, 3, 4, 5, 6, 7, 8]
do for [k = 1:total] {
    if (value('curve_name_'.k) eq 'fitness') { colour[k] = c_fitness; dashes[k] = 1 }
    if (value('curve_name_'.k) eq 'fatigue') { colour[k] = c_fatigue; dashes[k] = 3 }
}

f_big = narrow ? f_small : sprintf(',%.1f', 1.1 * f_base)
longest_name = 0
do for [k = 1:total] {
    name_length = strlen(value('curve_name_'.k))
    longest_name = name_length > longest_name ? name_length : longest_name
}
has_marks = marks_count > 0
rows = total > 3 && longest_name < 24 ? int((total + has_marks + 1) / 2) : total + int(shade) * 2 + has_marks
bottom = plain_text ? line(rows + 4) : narrow ? px(54) : 0.165 + 0.038 * rows
if (!plain_text) { set grid xtics ytics back linetype 1 linewidth 0.7 linecolor rgb c_rule }
set lmargin at screen (plain_text ? 0.10 : narrow ? 0.2 : 0.115)
set rmargin at screen 0.965
set tmargin at screen (plain_text ? line(29) : narrow ? 1 - px(24) : 0.82)
set bmargin at screen bottom
if (!plain_text) { set tics font f_big }
set xlabel fit(x_label, 90)
if (!plain_text) { set xlabel font f_big }
has_t_n = t_n == t_n
has_t_g = t_g == t_g
if (has_t_n) {
    set arrow 1 from t_n, graph 0 to t_n, graph 1 nohead front linewidth 1.8 dashtype (10, 5)
    set label 5 sprintf('t_n %.1f d', abs(t_n)) at t_n, screen (plain_text ? line(30) : 0.845) center
}
if (has_t_g) {
    set arrow 2 from t_g, graph 0 to t_g, graph 1 nohead front linewidth 1.8 dashtype (3, 4)
    set label 6 sprintf('t_g %.1f d', abs(t_g)) at t_g, screen (plain_text ? line(30) : 0.845) center
}
if (plain_text) {
    set label 4 fit(y_label, 90) at screen 0.02, line(32) left
    set key at screen 0.98, line(0) right bottom vertical maxrows total
    plot for [k = 1:total] $curves using 1:k + 1 with points pointtype k title fit(value('curve_name_'.k), 70), \
         for [k = 1:int(has_marks)] $marks using 1:2 with points pointtype 16 title fit(mark_name, 70), \
         for [k = 1:has_zero] 0 with lines linetype 0 notitle
} else {
    if (narrow) { set label 4 fit(y_label, 45) at screen 0.02, 1 - px(10) left font f_small; set xlabel offset 0, 0.4; unset key } else {
    set label 4 fit(y_label, columns * 0.5) at screen 0.024, 0.5 * (0.82 + bottom) center rotate by 90 font (strlen(y_label) < columns * 0.22 ? f_big : font_for(y_label, columns * 0.33))
    set key at screen 0.5, 0.015 center bottom vertical maxrows rows Left reverse samplen 4.5 spacing 1.2 font f_big }
    every_so = int(ceil(|$curves| / 9.0))
    plot for [k = 1:int(shade)] $curves using 1:(0):($2 < 0 ? $2 : 0) with filledcurves fillcolor rgb c_vermillion fillstyle pattern 4 noborder title 'training here hurts', \
         for [k = 1:int(shade)] $curves using 1:(0):($2 > 0 ? $2 : 0) with filledcurves fillcolor rgb s_help fillstyle solid 1 noborder title 'training here helps', \
         for [k = 1:has_zero] 0 with lines linewidth 1.2 linecolor rgb c_grey notitle, \
         for [k = 1:total] $curves using 1:k + 1 with lines linewidth thick[k] * (narrow ? 0.6 : 1) linecolor rgb colour[k] dashtype dashes[k] notitle, \
         for [k = 1:total] $curves using 1:k + 1 every every_so::int((k - 1) * every_so / 8.0) with points pointtype symbol[k] pointsize (narrow ? 0.6 : 1.2) * p linecolor rgb colour[k] notitle, \
         for [k = 1:total] keyentry with linespoints linewidth thick[k] linecolor rgb colour[k] dashtype dashes[k] pointtype symbol[k] pointsize 1.2 * p title fit(value('curve_name_'.k), 60), \
         for [k = 1:int(has_marks)] $marks using 1:2:3 with yerrorbars linewidth 2.6 linecolor rgb c_black pointtype 13 pointsize 2 * p title fit(mark_name, 60)
}
