# review: a row an athlete: at the left the load done as a share of the load
# planned, at the right the forecast of the day of issue with its 90 % range and
# what was measured.
#
# Needs
#   title, subtitle   strings
#   unit              string, of the forecasts; '' for none
#   rows_count        athletes
#   row_name_1 ..     strings
#   $review           rows: row (from 1), load planned, load done, forecast, its
#                     5 % and 95 % points, what was measured; NaN: not known
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

rows_total = int(rows_count)
known(v) = v == v
cell_font = rows_total > 22 ? sprintf(',%.1f', 0.63 * f_base) : f_small
most = 1.0
do for [i = 1:|$review|] {
    share = field($review[i], 2) > 0 ? field($review[i], 3) / field($review[i], 2) : 0
    most = share > most ? share : most
}
low = NaN
forecasts = sum [i = 1:|$review|] take(field($review[i], 4)) * take(field($review[i], 5)) * take(field($review[i], 6))
measured = sum [i = 1:|$review|] take(field($review[i], 7))
dummy = wide(0.06)

unset key
unset ytics
set yrange [rows_total + 0.6:0.4]
top = plain_text ? line(28) : 0.83
bottom = plain_text ? line(5) : 0.16
set tmargin at screen top
set bmargin at screen bottom
set multiplot
set lmargin at screen 0.16
set rmargin at screen (forecasts ? 0.52 : 0.965)
set xrange [0:100 * most * 1.08]
set xlabel (plain_text ? 'load done, % of that planned' : 'load done, % of the load planned (line: as planned)') font f_small
do for [i = 1:rows_total] {
    if (!plain_text || rows_total <= 20) {
        set label 100 + i fit(value('row_name_'.i), plain_text ? 13 : 18) at screen 0.152, first i right font cell_font
    }
}
set arrow 1 from first 100, graph 0 to first 100, graph 1 nohead front linewidth 2 linecolor rgb c_black
if (plain_text) {
    plot $review using ($2 > 0 ? 100 * $3 / $2 : NaN):1 with points pointtype '#' notitle
} else {
    plot $review using (0):1:(0):($2 > 0 ? 100 * $3 / $2 : 0):($1 - 0.32):($1 + 0.32) with boxxyerror fillcolor rgb c_bar fillstyle solid 1 noborder notitle
}
if (forecasts) {
    do for [i = 1:rows_total] { unset label 100 + i }
    unset label 1
    unset label 2
    unset arrow 1
    set lmargin at screen 0.56
    set rmargin at screen 0.965
    set xrange [low:high]
    set xlabel fit(unit.(plain_text ? ': m as forecast, T test' : ''), plain_text ? 42 : columns * 0.42) font f_small
    if (plain_text) {
        plot NaN notitle, $review using 4:1:5:6 with xerrorbars notitle, \
             $review using 4:1 with points pointtype 'm' notitle, \
             for [k = 1:measured > 0] $review using 7:1 with points pointtype 'T' notitle
    } else {
        plot NaN notitle, \
             $review using 5:1:($6 - $5):(0) with vectors nohead linewidth 4 linecolor rgb c_bar notitle, \
             $review using 4:1 with points pointtype 7 pointsize 1.2 * p linecolor rgb c_blue notitle, \
             for [k = 1:measured > 0] $review using 7:1 with points pointtype 13 pointsize 2.1 * p linecolor rgb '#FFFFFF' notitle, \
             for [k = 1:measured > 0] $review using 7:1 with points pointtype 13 pointsize 1.6 * p linecolor rgb c_black notitle
    }
}
unset multiplot
