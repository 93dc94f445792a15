# true-gain: what each taper gains over no taper on virtual athletes: the mean
# with its 95 % interval, and the SD between athletes.
#
# Needs
#   title, subtitle   strings
#   gain_label        string, the horizontal axis with its unit
#   tapers_count      1 to 16
#   taper_name_1 ..   strings, as many
#   $gains            rows: mean true gain, half its 95 % interval, SD between
#                     athletes; NaN: no run could be made
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

tapers = int(tapers_count)
low = 0
high = 0
known = sum [i = 1:tapers] take(field($gains[i], 1))
dummy = sum [i = 1:tapers] (take(field($gains[i], 1) - field($gains[i], 3)) + take(field($gains[i], 1) + field($gains[i], 3)))
dummy = wide(0.06)
longest_name = 0
do for [i = 1:tapers] {
    name_length = strlen(value('taper_name_'.i))
    longest_name = name_length > longest_name ? name_length : longest_name
}
name_room = longest_name < columns * 0.4 ? longest_name : columns * 0.4
left = plain_text ? 0.03 + 0.0105 * name_room : 0.06 + 0.86 * name_room / columns
set lmargin at screen left
set rmargin at screen 0.965
set tmargin at screen (plain_text ? line(32) : 0.86)
set bmargin at screen (plain_text ? line(6) : 0.24)
set xrange [low:high]
set yrange [tapers + 0.6:0.4]
set format x '%.6g'
unset ytics
unset grid
do for [i = 1:tapers] {
    set label 100 + i fit(value('taper_name_'.i), name_room) at screen left - 0.012, first i right font f_small
}
if (plain_text) {
    set xlabel fit(gain_label, 80)
    set arrow 1 from 0, graph 0 to 0, graph 1 nohead linetype 0
    set key at screen 0.98, line(0) right bottom vertical maxrows 2
    plot NaN notitle, \
         $gains using (known ? $1 : away):(known ? $0 + 1 : 0):3 with xerrorbars pointtype 4 title 'mean, SD between athletes'
} else {
    set grid xtics back linetype 1 linewidth 0.7 linecolor rgb c_rule
    set label 3 fit(gain_label, columns * 0.7) at screen 0.5 * (left + 0.965), 0.15 center font f_small
    set arrow 1 from 0, graph 0 to 0, graph 1 nohead back linewidth 1.6 linecolor rgb c_grey dashtype (6, 4)
    set key at screen 0.5, 0.02 center bottom vertical maxrows 2 Left reverse samplen 3.5 spacing 1.2
    plot NaN notitle, \
         $gains using (known ? $1 : away):(known ? $0 + 1 : 0):3 with xerrorbars pointtype 0 linewidth 1.8 linecolor rgb c_sky notitle, \
         $gains using (known ? $1 : away):(known ? $0 + 1 : 0):2 with xerrorbars pointtype 7 pointsize 1.1 * p linewidth 4 linecolor rgb c_black notitle, \
         keyentry with linespoints pointtype 7 pointsize 1.1 * p linewidth 4 linecolor rgb c_black title 'mean true gain, 95 % interval', \
         keyentry with lines linewidth 1.8 linecolor rgb c_sky title 'one SD between athletes either way', \
         keyentry with lines linewidth 1.6 linecolor rgb c_grey dashtype (6, 4) title 'no taper'
}
