# influence: what one unit of load, given so many days before an event, does to
# readiness at the event. Time runs to the right, to the event.
#
# Needs
#   title, subtitle   strings
#   influence_label   string, the vertical axis with its unit
#   t_n               [d] last day before the event on which a load still
#                     lowers readiness at the event; NaN: none
#   t_g               [d] day on which a load raises it most; NaN: none
#   longest           [d] left end of the axis
#   $influence        rows: days before the event [d], influence
#                     [readiness/load]
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

low = 0
high = 0
known = sum [i = 1:|$influence|] take(field($influence[i], 2))
below = low < 0
above = high > 0
dummy = wide(0.12)

set lmargin at screen (plain_text ? 0.12 : 0.105)
set rmargin at screen 0.965
set tmargin at screen (plain_text ? line(28) : 0.775)
set bmargin at screen (plain_text ? line(6) : 0.175)
set xrange [longest:0]
set yrange [low:high]
step = longest <= 35 ? 5 : longest <= 70 ? 7 : longest <= 140 ? 14 : 28 * ceil(longest / 280.0)
set xtics 0, step
set xlabel 'days before the event (the event is at the right end)'
set format y '%.4g'
if (plain_text) {
    set label 3 fit(influence_label, 90) at screen 0.02, line(32) left
    set key at screen 0.98, line(0) right bottom vertical maxrows 2
} else {
    set label 3 fit(influence_label, columns * 0.52) at screen 0.022, 0.475 center rotate by 90 font font_for(influence_label, columns * 0.4)
    set key at screen 0.535, 0.018 center bottom vertical maxrows 1 Left reverse samplen 4 width 2
    set grid xtics ytics
}

# Marks: each on its own line of text above the panel.
x_at(t) = 0.105 + 0.86 * (1 - t / longest)
has_t_n = t_n == t_n && t_n > 0 && t_n <= longest
has_t_g = t_g == t_g && t_g > 0 && t_g <= longest
t_n_text = has_t_n ? sprintf('t_n = %.1f days: last training that still lowers it', t_n) : ''
t_g_text = has_t_g ? sprintf('t_g = %.1f days: training that helps most', t_g) : ''
mark_y(row) = plain_text ? line(30 + row) : 0.80 + 0.045 * row
if (has_t_n) {
    if (plain_text) {
        set arrow 1 from t_n, graph 0 to t_n, graph 1 nohead linetype 0
    } else {
        set arrow 1 from first t_n, graph 0 to first t_n, screen mark_y(1) nohead front linewidth 1.8 linecolor rgb c_black dashtype (10, 5)
    }
    if (x_at(t_n) > 0.42) {
        set label 4 t_n_text at first t_n, screen mark_y(1) offset -0.6, 0 right front
    } else {
        set label 4 t_n_text at first t_n, screen mark_y(1) offset 0.6, 0 left front
    }
}
if (has_t_g) {
    if (plain_text) {
        set arrow 2 from t_g, graph 0 to t_g, graph 1 nohead linetype 0
    } else {
        set arrow 2 from first t_g, graph 0 to first t_g, screen mark_y(0) nohead front linewidth 1.8 linecolor rgb c_black dashtype (3, 4)
    }
    if (x_at(t_g) > 0.42) {
        set label 5 t_g_text at first t_g, screen mark_y(0) offset -0.6, 0 right front
    } else {
        set label 5 t_g_text at first t_g, screen mark_y(0) offset 0.6, 0 left front
    }
}

hurts = 'training here lowers readiness at the event'
helps = 'training here raises it'
if (plain_text) {
    plot for [k = 1:known > 0 && below] $influence using ($2 < 0 ? $1 : away):($2 < 0 ? $2 : 0) with impulses linetype 1 title hurts, \
         for [k = 1:known > 0 && above] $influence using ($2 >= 0 ? $1 : away):($2 >= 0 ? $2 : 0) with impulses linetype 3 title helps, \
         0 with lines linetype 0 notitle
} else {
    set style fill solid 1 noborder
    plot for [k = 1:known > 0 && below] $influence using 1:(0):($2 < 0 ? $2 : 0) with filledcurves fillcolor rgb c_vermillion fillstyle pattern 4 noborder title hurts, \
         for [k = 1:known > 0 && above] $influence using 1:(0):($2 > 0 ? $2 : 0) with filledcurves fillcolor rgb s_help fillstyle solid 1 noborder title helps, \
         0 with lines linewidth 1.3 linecolor rgb c_black notitle, \
         for [k = 1:known > 0] $influence using (known ? $1 : away):(known ? $2 : 0) with lines linewidth 3 linecolor rgb c_readiness notitle
}
