# lesson-rows: estimates with their intervals, a row each, from the top down.
#
# Needs
#   title, subtitle, y_label
#                     strings; y_label is what is estimated
#   row_name_1 ..     strings, as many as rows
#   $curves           rows: place from 1, estimate, low, high
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

count = |$curves|
low = NaN
dummy = take(0)
dummy = sum [i = 1:count] (take(field($curves[i], 3)) + take(field($curves[i], 4)))
dummy = wide(0.06)
f_big = sprintf(',%.1f', 1.1 * f_base)
set xrange [low:high]
set yrange [count + 0.6:0.4]
set lmargin at screen (plain_text ? 0.30 : 0.27)
set rmargin at screen 0.965
set tmargin at screen (plain_text ? line(31) : 0.86)
set bmargin at screen (plain_text ? line(5) : 0.15)
set xlabel fit(y_label, 90)
do for [i = 1:count] { set label 10 + i fit(value('row_name_'.i), 40) at graph -0.02, first i right front }
if (!plain_text) { set tics font f_big }
unset ytics
if (!plain_text) {
    do for [i = 1:count] { set label 10 + i font f_big }
    set xlabel font f_big
    set grid xtics back linetype 1 linewidth 0.7 linecolor rgb c_rule
    set arrow 1 from 0, graph 0 to 0, graph 1 nohead back linewidth 1.8 dashtype (10, 5) linecolor rgb c_grey
    plot $curves using 2:1:3:4 with xerrorbars linewidth 2.8 linecolor rgb c_black pointtype 7 pointsize 1.8 * p notitle
} else {
    plot $curves using 3:1 with points pointtype 3 notitle, \
         $curves using 4:1 with points pointtype 3 notitle, \
         $curves using 2:1 with points pointtype 7 notitle
}
