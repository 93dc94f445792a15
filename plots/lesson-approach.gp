# lesson-approach: daily loads as bars under the influence curve that ends at
# the day looked at: three days one above the other or, as a film, a frame for
# each day with the readiness so far below.
#
# Needs
#   title, subtitle   strings
#   from              [d] before the event that is looked at first
#   film              1: a frame for each day from there to the event
#   $days             rows: day (the event is 0, the last row), load, readiness
#   $influence        rows: age in days from 0, influence; row 0 is not used
#
# SPDX-License-Identifier: GPL-3.0-or-later

if (film) { title = title.': a bar hurts or helps by its distance to the day looked at' }
load scripts.'/common.gp'

count = |$days|
array infl[count]
do for [i = 1:count] {
    infl[i] = field($influence[i], 2)
}
at(age) = age >= 1 && age < count ? infl[int(age) + 1] : 0

low = NaN
known = sum [i = 1:count] take(field($days[i], 2))
most = high > 0 ? high : 1
low = NaN
known = sum [i = 2:count] take(infl[i])
reach = high / 1.05
reach = -low / 0.75 > reach ? -low / 0.75 : reach
reach = reach > 0 ? reach : 1
low = NaN
known = sum [i = 1:count] take(field($days[i], 3))
dummy = wide(0.08)

f_base_font = sprintf(',%.1f', f_base)
first = 1 - count
set xrange [first - 1:2.5]
set yrange [-0.8 * most:1.15 * most]
set y2range [-0.8 * reach:1.15 * reach]
set lmargin at screen plain_text ? 0.10 : 0.085
set rmargin at screen 0.975
set xtics 7
set boxwidth 0.8
set style fill solid 1 noborder
hurts(x, day) = x < day && at(day - x) < 0
helps(x, day) = x < day && at(day - x) >= 0
hurt_pattern = 4
when(day) = day == 0 ? 'on the day of the event' : sprintf('%d days before the event', -day)
hurt_name = 'load that lowers readiness on that day'
help_name = 'load that raises it'
wait_name = 'still to come'
curve_name = 'influence of a load on that day''s readiness'

if (plain_text) {
    set tmargin at screen line(31)
    set bmargin at screen line(4)
    set key at screen 0.98, line(0) right bottom vertical maxrows 3
    set label 4 when(0) at screen 0.02, line(32) left
    unset ytics
    plot $days using (hurts($1, 0) ? $1 : away):(hurts($1, 0) ? $2 : 0) with impulses linetype 1 title hurt_name, \
         $days using (helps($1, 0) ? $1 : away):(helps($1, 0) ? $2 : 0) with impulses linetype 3 title help_name, \
         $influence using ($1 > 0 ? -$1 : away):($1 > 0 ? $2 : 0) axes x1y2 with points title curve_name
} else {
    panels = film ? 1 : 3
    array looked[3] = [-from, -int(from / 2), 0]
    panel_bottom(k) = film ? 0.42 : 0.67 - 0.24 * (k - 1)
    panel_height = film ? 0.44 : 0.19
    frames = film ? from + 1 : 1
    unset ytics
    set xtics font f_base_font
    set border 1
    unset grid
    do for [frame = 1:frames] {
        set multiplot
        do for [k = 1:panels] {
            day = film ? frame - 1 - from : looked[k]
            last = k == panels
            set bmargin at screen panel_bottom(k)
            set tmargin at screen panel_bottom(k) + panel_height
            if (last && !film) { set format x '%g'; set xlabel 'days before the event (day 0)' } else { set format x ''; unset xlabel }
            set arrow 1 from day, graph 0 to day, graph 1 nohead front linewidth 2 dashtype (10, 5)
            set label 5 when(day) at first day, screen panel_bottom(k) + panel_height + 0.012 right front font f_base_font
            set label 6 'load and influence' at screen 0.03, screen panel_bottom(k) + panel_height / 2 center rotate by 90 font f_base_font
            if (last) { set key at screen 0.5, screen (film ? 0.318 : 0.012) center bottom maxrows 2 Left reverse samplen 3 spacing 1.35 width 1 font f_small } else { unset key }
            plot $days using (hurts($1, day) ? $1 : away):(hurts($1, day) ? $2 : 0) with boxes fillcolor rgb c_vermillion fillstyle pattern hurt_pattern border rgb c_vermillion title hurt_name, \
                 $days using (helps($1, day) ? $1 : away):(helps($1, day) ? $2 : 0) with boxes fillcolor rgb s_help fillstyle solid 1 border rgb c_green title help_name, \
                 $days using ($1 >= day ? $1 : away):($1 >= day ? $2 : 0) with boxes fillcolor rgb '#FFFFFF' fillstyle solid 1 border rgb c_pale title wait_name, \
                 0 with lines linewidth 1.2 linecolor rgb c_grey notitle, \
                 $influence using ($1 > 0 ? day - $1 : away):($1 > 0 ? $2 : 0) axes x1y2 with lines linewidth 3.4 linecolor rgb c_black title curve_name
            unset label 1
            unset label 2
        }
        if (film) {
            set bmargin at screen 0.09
            set tmargin at screen 0.29
            set yrange [low:high]
            unset arrow 1
            unset label 5
            set label 6 'readiness' at screen 0.03, screen 0.19 center rotate by 90 font f_base_font
            set format x '%g'
            set xlabel 'days before the event (day 0)'
            unset key
            plot $days using ($1 <= day ? $1 : away):($1 <= day ? $3 : 0) with lines linewidth 3 linecolor rgb c_readiness notitle, \
                 $days using ($1 == day ? $1 : away):($1 == day ? $3 : 0) with points pointtype 7 pointsize 1.6 linecolor rgb c_readiness notitle
            set yrange [-0.8 * most:1.15 * most]
            set label 1 title_fit at screen left_edge, title_y left front font f_title
            set label 2 subtitle_fit at screen left_edge, subtitle_y left front font subtitle_font textcolor rgb c_grey
        }
        unset multiplot
    }
}
