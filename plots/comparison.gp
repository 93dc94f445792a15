# comparison: readiness under several tapers, by day from the event's first day.
#
# Needs
#   title, subtitle   strings
#   readiness_label   string, the vertical axis with its unit
#   options_count     1 to 8
#   option_name_1 ..  strings, as many
#   event_from, event_to
#                     [d] first and last day of the event, from its first day
#   $curves           rows: day from the event's first day [d], then the
#                     readiness of each option
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

option_total = options_count > 8 ? 8 : int(options_count)
array known[8]
low = NaN
do for [k = 1:option_total] {
    known[k] = sum [i = 1:|$curves|] take(field($curves[i], k + 1))
}
dummy = wide(0.06)
y_low = low
y_high = high
low = event_from
high = event_to
dummy = sum [i = 1:|$curves|] take(field($curves[i], 1))
x_low = low - 0.5
x_high = high + 0.5
span = x_high - x_low

array colour[8] = [c_black, c_blue, c_vermillion, c_green, c_orange, c_purple, c_sky, c_grey]
set dashtype 1 solid
set dashtype 2 (16, 6)
set dashtype 3 (9, 6)
set dashtype 4 solid
set dashtype 5 (3, 4)
set dashtype 6 (16, 5, 3, 5)
set dashtype 7 (6, 3)
set dashtype 8 (16, 4, 3, 4, 3, 4)
array thick[8] = [3.6, 3, 2.6, 1.8, 3.2, 2.4, 2.4, 1.8]
array symbol[8] = [7, 5, 9, 4, 6, 11, 8, 2]

longest_name = 0
do for [k = 1:option_total] {
    name_length = strlen(value('option_name_'.k))
    longest_name = name_length > longest_name ? name_length : longest_name
}
one_column = plain_text || option_total < 4 || (option_total < 6 && longest_name > columns * 0.38)
key_rows = one_column ? option_total : int((option_total + 1) / 2)
name_fit = plain_text ? 74 : columns * (one_column ? 0.8 : 0.36)
bottom = plain_text ? line(key_rows + 4) : 0.155 + 0.031 * key_rows
set lmargin at screen (plain_text ? 0.10 : 0.09)
set rmargin at screen 0.965
set tmargin at screen (plain_text ? line(29) : 0.84)
set bmargin at screen bottom
set xrange [x_low:x_high]
set yrange [y_low:y_high]
set format y '%.6g'
step = span <= 16 ? 1 : span <= 35 ? 2 : span <= 125 ? 7 : span <= 250 ? 14 : 28 * ceil(span / 500.0)
set xtics step * floor(x_low / step), step
set xlabel 'days before (-) and after (+) the event starts'

event_middle = (event_from + event_to) / 2.0
if (event_to - event_from + 1 < 0.04 * span || event_middle > x_high - 0.04 * span) {
    set label 3 'event' at first event_to + 0.5, screen (plain_text ? line(30) : 0.858) right
} else {
    set label 3 'event' at first event_middle, screen (plain_text ? line(30) : 0.858) center
}
every_so = span < 12 ? 1 : int(ceil(span / 9.0))
start_of(k) = int((k - 1) * every_so / 8.0)

if (plain_text) {
    set label 4 fit(readiness_label, 60) at screen 0.02, line(31) left
    set arrow 1 from event_from - 0.5, graph 0 to event_from - 0.5, graph 1 nohead linetype 0
    set arrow 2 from event_to + 0.5, graph 0 to event_to + 0.5, graph 1 nohead linetype 0
    set key at screen 0.98, line(0) right bottom vertical maxrows option_total
    plot NaN notitle, for [k = 1:option_total] $curves using (known[k] ? $1 : away):(known[k] ? column(k + 1) : 0) with points pointtype k title fit(value('option_name_'.k), name_fit)
} else {
    set label 4 fit(readiness_label, columns * 0.45) at screen 0.022, 0.5 * (0.84 + bottom) center rotate by 90 font font_for(readiness_label, columns * 0.33)
    set object 1 rectangle from event_from - 0.5, graph 0 to event_to + 0.5, graph 1 behind fillcolor rgb s_event fillstyle solid 1 border linecolor rgb c_orange
    set arrow 1 from event_from - 0.5, graph 0 to event_from - 0.5, graph 1 nohead back linewidth 1 linecolor rgb c_orange
    set arrow 2 from event_to + 0.5, graph 0 to event_to + 0.5, graph 1 nohead back linewidth 1 linecolor rgb c_orange
    set key at screen 0.5, 0.018 center bottom vertical maxrows key_rows Left reverse samplen 4.5 spacing 1.15 width (longest_name < 24 ? 3 : -4)
    plot NaN notitle, \
         for [k = 1:option_total] $curves using (known[k] ? $1 : away):(known[k] ? column(k + 1) : 0) with lines linewidth thick[k] linecolor rgb colour[k] dashtype k notitle, \
         for [k = 1:option_total] $curves using (known[k] ? $1 : away):(known[k] ? column(k + 1) : 0) every every_so::start_of(k) with points pointtype symbol[k] pointsize 1.1 * p linewidth 1.6 linecolor rgb colour[k] notitle, \
         for [k = 1:option_total] keyentry with linespoints linewidth thick[k] linecolor rgb colour[k] dashtype k pointtype symbol[k] pointsize 1.1 * p title fit(value('option_name_'.k), name_fit)
}
