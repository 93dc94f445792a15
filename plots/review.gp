# review: a row an athlete: at the left the load done as a share of the load
# planned, at the right the forecast of the day of issue with its 90 % range and
# what was measured.
#
# Needs
#   title, subtitle   strings
#   unit              string, of the forecasts; '' for none
#   beside            string: 'planned' or 'usual', the load that 100 % is
#   rows_count        athletes
#   row_name_1 ..     strings
#   $review           rows: row (from 1), load planned, load done, forecast, its
#                     5 % and 95 % points, what was measured; NaN: not known
#
# SPDX-License-Identifier: GPL-3.0-or-later

if (plain_text) { subtitle = 'm: forecast on the day of issue, with its 90 % range; T: measured, on top where both meet' }
load scripts.'/common.gp'

rows_total = int(rows_count)
known(v) = v == v
cell_font = !narrow && rows_total > 22 ? sprintf(',%.1f', 0.63 * f_base) : f_small
most = 1.0
do for [i = 1:|$review|] {
    share = field($review[i], 2) > 0 ? field($review[i], 3) / field($review[i], 2) : 0
    most = share > most ? share : most
}
low = NaN
forecasts = sum [i = 1:|$review|] take(field($review[i], 4)) * take(field($review[i], 5)) * take(field($review[i], 6))
measured = sum [i = 1:|$review|] take(field($review[i], 7))
dummy = wide(0.06)

mark = narrow ? 0.6 * p : p
# Forecast and measured lie in a lane each, so that neither hides the other.
lane = measured > 0 ? 0.19 : 0
unset key
unset ytics
set yrange [rows_total + 0.6:0.4]
top = plain_text ? line(28) : narrow ? 1 - px(38) : 0.83
bottom = plain_text ? line(5) : narrow ? px(76) : 0.16
left = narrow ? 0.33 : 0.16
middle = narrow ? 0.63 : 0.52
set tmargin at screen top
set bmargin at screen bottom
set multiplot
set lmargin at screen left
set rmargin at screen (forecasts ? middle : 0.965)
set xrange [0:100 * most * 1.08]
if (narrow) { set xtics most > 2 ? 100 : 50 }
if (narrow) {
    # the axes' names stand above, the second one's marks below
    set label 3 (forecasts ? 'left: ' : '').'load done, % of the '.beside.' (line)' at screen 0.01, 1 - px(10) left font f_small
    if (forecasts) { set label 4 fit('right: '.unit, 46) at screen 0.01, 1 - px(26) left font f_small }
} else {
set xlabel (plain_text ? 'load done, % of the '.beside.' one' : 'load done, % of the '.beside.' load (line: 100 %)') font f_small
}
do for [i = 1:rows_total] {
    if (!plain_text || rows_total <= 20) {
        set label 100 + i fit(value('row_name_'.i), plain_text ? 13 : narrow ? 14 : 18) at screen left - 0.008, first i right font cell_font
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
    unset label 3
    unset label 4
    unset arrow 1
    set lmargin at screen middle + 0.04
    set rmargin at screen 0.965
    set xrange [low:high]
    if (!narrow) { set xlabel fit(unit.(plain_text ? ': m as forecast, T test' : ''), plain_text ? 42 : columns * 0.42) font f_small }
    if (plain_text) {
        plot NaN notitle, $review using 4:1:5:6 with xerrorbars notitle, \
             $review using 4:1 with points pointtype 'm' notitle, \
             for [k = 1:measured > 0] $review using 7:1 with points pointtype 'T' notitle
    } else {
        if (narrow) {
            part = (high - low) / 3.0
            unit_step = 10**floor(log10(part))
            set xtics part < 2 * unit_step ? 2 * unit_step : part < 5 * unit_step ? 5 * unit_step : 10 * unit_step
            set key at screen 0.5, px(3) center bottom horizontal maxrows 2 Left reverse samplen 1.6
        }
        plot NaN notitle, \
             $review using 5:($1 - lane):($6 - $5):(0) with vectors nohead linewidth 4 linecolor rgb c_bar notitle, \
             $review using 4:($1 - lane) with points pointtype 7 pointsize 1.2 * mark linecolor rgb c_blue notitle, \
             for [k = 1:measured > 0] $review using 7:($1 + lane) with points pointtype 13 pointsize 1.6 * mark linecolor rgb c_black notitle, \
             for [k = 1:narrow > 0] keyentry with linespoints linewidth 4 linecolor rgb c_bar pointtype 7 pointsize 1.2 * mark title 'forecast, 90 % range', \
             for [k = 1:narrow > 0] keyentry with points pointtype 13 pointsize 1.6 * mark linecolor rgb c_black title 'measured'
    }
}
unset multiplot
