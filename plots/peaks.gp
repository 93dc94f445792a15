# peaks: a season with several events: readiness with and without the tapers
# (upper panel), and the load of each day, what is cut in outline (lower panel).
#
# Needs
#   title, subtitle   strings
#   load_label, readiness_label
#                     strings, vertical axes with their units
#   today             [s] since 1970 UTC
#   events_count      how many events
#   event_name_1 ..   strings, as many
#   $days             rows: time [s since 1970 UTC], load without and with the
#                     tapers, readiness without and with them, low, high
#   $events           rows: first and last day [s since 1970 UTC], first day of
#                     the taper before it or NaN
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

day = 86400.0
low = NaN
dummy = sum [i = 1:|$days|] take(field($days[i], 1))
x_low = low - 0.7 * day
x_high = high + 0.7 * day
low = NaN
has_none = sum [i = 1:|$days|] take(field($days[i], 4))
has_taper = sum [i = 1:|$days|] take(field($days[i], 5))
has_band = sum [i = 1:|$days|] take(field($days[i], 6)) * take(field($days[i], 7))
dummy = wide(0.06)
y_low = low
y_high = high
low = 0
high = 0
dummy = sum [i = 1:|$days|] (take(field($days[i], 2)) + take(field($days[i], 3)))
load_high = high > 0 ? 1.1 * high : 1

y1_top = plain_text ? line(29) : 0.80
y1_bottom = plain_text ? line(15) : 0.47
y2_top = plain_text ? line(13) : 0.42
y2_bottom = plain_text ? line(5) : 0.20
set lmargin at screen (plain_text ? 0.10 : 0.09)
set rmargin at screen 0.965
set xrange [x_low:x_high]
set format y '%.6g'
unset xtics
unset key
set multiplot

do for [k = 1:events_count] {
    e1 = field($events[k], 1) - 0.5 * day
    e2 = field($events[k], 2) + 0.5 * day
    t1 = field($events[k], 3) - 0.5 * day
    name = fit(value('event_name_'.k), int(columns * 0.8 / (events_count > 2 ? 3 : 2)))
    side = e1 > x_low + 0.75 * (x_high - x_low)
    rise = events_count > 1 && k % 2 ? 1 : 0
    if (plain_text) {
        set arrow 100 + k from e1, graph 0 to e1, graph 1 nohead linetype 0
        if (side) { set label 100 + k name at first e2, screen line(30 + rise) right }
        if (!side) { set label 100 + k name at first e1, screen line(30 + rise) left }
    }
    if (!plain_text) {
        if (t1 == t1) { set object 200 + k rectangle from t1, graph 0 to e1, graph 1 behind fillcolor rgb s_taper fillstyle solid 1 border linecolor rgb c_edge }
        set object 100 + k rectangle from e1, graph 0 to e2, graph 1 behind fillcolor rgb s_event fillstyle solid 1 border linecolor rgb c_orange
        if (side) { set label 100 + k name at first e2, screen 0.815 + 0.036 * rise right front font f_small }
        if (!side) { set label 100 + k name at first e1, screen 0.815 + 0.036 * rise left front font f_small }
    }
}
if (plain_text) {
    set arrow 3 from today, graph 0 to today, graph 1 nohead linetype 0
} else {
    set arrow 3 from today, graph 0 to today, graph 1 nohead front linewidth 1.6 linecolor rgb c_grey dashtype (1.5, 3)
}

# ---- readiness ----

set tmargin at screen y1_top
set bmargin at screen y1_bottom
set yrange [y_low:y_high]
if (plain_text) {
    set label 4 fit(readiness_label, 60) at screen 0.02, line(32) left
    plot NaN notitle, \
         $days using (has_none ? $1 : away):(has_none ? $4 : 0) with points pointtype 1 notitle, \
         $days using (has_taper ? $1 : away):(has_taper ? $5 : 0) with points pointtype 2 notitle
} else {
    set label 4 fit(readiness_label, columns * 0.45) at screen 0.02, 0.5 * (y1_top + y1_bottom) center rotate by 90 font font_for(readiness_label, columns * 0.24)
    set label 5 'today' at first today, screen 0.5 * (y1_bottom + y2_top) center front font f_small textcolor rgb c_grey
    plot NaN notitle, \
         for [k = 1:(has_band > 0)] $days using (has_band ? $1 : away):(has_band ? $6 : 0):(has_band ? $7 : 0) with filledcurves fillcolor rgb s_range fillstyle solid 1 noborder notitle, \
         for [k = 6:7 * (has_band > 0)] $days using (has_band ? $1 : away):(has_band ? column(k) : 0) with lines linewidth 0.7 linecolor rgb c_edge notitle, \
         $days using (has_none ? $1 : away):(has_none ? $4 : 0) with lines linewidth 1.8 linecolor rgb c_vermillion dashtype (9, 6) notitle, \
         $days using (has_taper ? $1 : away):(has_taper ? $5 : 0) with lines linewidth 3 linecolor rgb c_readiness notitle
}

# ---- load ----

do for [k = 1:events_count] { unset label 100 + k }
unset label 1
unset label 2
unset label 4
unset label 5
set tmargin at screen y2_top
set bmargin at screen y2_bottom
set yrange [0:load_high]
set ytics autofreq
span = (x_high - x_low) / day
set xtics () nomirror out font f_small
do for [i = 1:|$days|] {
    t = field($days[i], 1)
    if (span <= 140 ? tm_wday(t) == 1 : tm_mday(t) == 1) {
        if (span <= 70 || span > 140 || int(t / day / 7) % 2) { set xtics add (strftime('%d %b', t) t) }
    }
}
set boxwidth 0.75 * day
if (plain_text) {
    set label 6 fit(load_label, 60) at screen 0.02, line(14) left
    set key at screen 0.98, line(0) right bottom vertical maxrows 2
    plot NaN notitle, \
         $days using 1:3 with impulses linetype 3 notitle, \
         NaN with points pointtype 1 title 'readiness, no taper', \
         NaN with points pointtype 2 title 'readiness, tapers'
} else {
    set label 6 fit(load_label, columns * 0.24) at screen 0.02, 0.5 * (y2_top + y2_bottom) center rotate by 90 font font_for(load_label, columns * 0.16)
    set key at screen 0.5, 0.012 center bottom vertical maxrows 2 Left reverse samplen 3.5 spacing 1.15
    plot NaN notitle, \
         $days using 1:2 with boxes fillstyle empty linecolor rgb c_grey notitle, \
         $days using 1:3 with boxes fillcolor rgb c_sky fillstyle solid 1 border linecolor rgb c_grey notitle, \
         keyentry with lines linewidth 3 linecolor rgb c_readiness title 'readiness with the tapers'.(has_band ? ', 90 % range' : ''), \
         keyentry with lines linewidth 1.8 linecolor rgb c_vermillion dashtype (9, 6) title 'readiness without a taper', \
         keyentry with boxes fillcolor rgb c_sky fillstyle solid 1 border linecolor rgb c_grey title 'load of the day', \
         keyentry with boxes fillstyle empty linecolor rgb c_grey title 'cut by the taper'
}
unset multiplot
