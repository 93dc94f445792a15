# sessions: the days around an event, session by session: readiness with and
# without the taper.
#
# Needs
#   title, subtitle   strings
#   readiness_label   string, the vertical axis with its unit
#   taper_name        string, the taper in short, or the plan handed out
#   session_labels    string, of the sessions, like 'Fri-09:30', with blanks
#                     between them; only numbers, letters, colons and dashes
#   level             [readiness] of normal training: the first morning, no taper
#   event_days        [d]
#   $readings         rows: time [d] from the event's first midnight, 1 before a
#                     session of the event and 0 on another day, readiness
#                     without a taper, its low and high, readiness under the
#                     taper, its low and high [readiness]
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

low = NaN
dummy = sum [i = 1:|$readings|] take(field($readings[i], 1))
x_low = low - 0.4
x_high = high + 0.4
low = NaN
dummy = sum [i = 1:|$readings|] (sum [k = 3:8] take(field($readings[i], k)))
dummy = take(level)
dummy = wide(0.05)
y_low = low
y_high = high
low = NaN
has_none = sum [i = 1:|$readings|] take(field($readings[i], 3))
has_taper = sum [i = 1:|$readings|] take(field($readings[i], 6))
has_bars = sum [i = 1:|$readings|] take(field($readings[i], 4)) * take(field($readings[i], 7))
sessions = sum [i = 1:|$readings|] (field($readings[i], 2) > 0)

# Where sessions lie close together the two bars of each stand beside each other.
apart = 0.035
at_session(row) = field(row, 2) > 0
bottom = plain_text ? line(7) : 0.245
set lmargin at screen (plain_text ? 0.10 : 0.09)
set rmargin at screen 0.965
set tmargin at screen (plain_text ? line(28) : 0.82)
set bmargin at screen bottom
set xrange [x_low:x_high]
set yrange [y_low:y_high]
set format y '%.6g'
set xtics 1 font f_small
set xlabel 'days from the start of the event''s first day'

name_none = 'no taper'
name_taper = fit('under the '.taper_name, plain_text ? 60 : columns * 0.5)
name_level = 'normal training: the first morning, no taper'

# Names of the sessions above, in up to two rows.
room = (x_high - x_low) / (plain_text ? 9.0 : 12.2)
n = 0
last_1 = x_low - 10
last_2 = x_low - 10
do for [i = 1:|$readings|] {
    if (at_session($readings[i])) {
        n = n + 1
        t = field($readings[i], 1)
        shown_name = n <= words(session_labels) ? fit(word(session_labels, n), 12) : ''
        cut_at = strstrt(shown_name, '-')
        shown_name = cut_at ? shown_name[1:cut_at - 1].' '.shown_name[cut_at + 1:*] : shown_name
        row = t - last_1 >= room ? 1 : t - last_2 >= room ? 2 : 0
        if (row == 1) { last_1 = t }
        if (row == 2) { last_2 = t }
        if (row) {
            set label 20 + n shown_name at first t, screen (plain_text ? line(28 + row) : 0.79 + 0.042 * row) center front font f_small
        }
    }
}

if (plain_text) {
    set label 4 fit(readiness_label, 60) at screen 0.02, line(32) left
    set arrow 1 from 0, graph 0 to 0, graph 1 nohead linetype 0
    set arrow 2 from event_days, graph 0 to event_days, graph 1 nohead linetype 0
    set arrow 3 from x_low, level to x_high, level nohead linetype 0
    set key at screen 0.98, line(0) right bottom vertical maxrows 3
    plot NaN notitle, \
         $readings using (has_none ? $1 : away):(has_none ? $3 : 0) with points pointtype 1 title name_none, \
         $readings using (has_taper ? $1 : away):(has_taper ? $6 : 0) with points pointtype 2 title name_taper
} else {
    set label 4 fit(readiness_label, columns * 0.45) at screen 0.022, 0.5 * (0.82 + bottom) center rotate by 90 font font_for(readiness_label, columns * 0.33)
    set object 1 rectangle from 0, graph 0 to event_days, graph 1 behind fillcolor rgb s_event fillstyle solid 1 border linecolor rgb c_orange
    do for [k = 1:event_days - 1] { set arrow 40 + k from k, graph 0 to k, graph 1 nohead back linewidth 1 linecolor rgb c_orange }
    set key at screen 0.5, 0.018 center bottom vertical maxrows 3 Left reverse samplen 4.5 spacing 1.15
    plot NaN notitle, \
         level with lines linewidth 1.8 linecolor rgb c_grey dashtype (3, 4) title name_level, \
         $readings using (has_none ? $1 : away):(has_none ? $3 : 0) with lines linewidth 1.6 linecolor rgb c_vermillion dashtype (9, 6) notitle, \
         $readings using (has_taper ? $1 : away):(has_taper ? $6 : 0) with lines linewidth 2.2 linecolor rgb c_blue notitle, \
         for [k = 1:(has_bars > 0)] $readings using (has_bars && $2 > 0 ? $1 + apart : away):($2 > 0 ? $3 : 0):($2 > 0 ? $4 : 0):($2 > 0 ? $5 : 0) with yerrorbars pointtype 4 pointsize 0.01 linewidth 1.6 linecolor rgb c_vermillion notitle, \
         for [k = 1:(has_bars > 0)] $readings using (has_bars && $2 > 0 ? $1 - apart : away):($2 > 0 ? $6 : 0):($2 > 0 ? $7 : 0):($2 > 0 ? $8 : 0) with yerrorbars pointtype 7 pointsize 0.01 linewidth 1.9 linecolor rgb c_blue notitle, \
         $readings using ($2 > 0 ? $1 : away):($2 > 0 ? $3 : 0) with points pointtype 4 pointsize 1.1 * p linewidth 1.6 linecolor rgb c_vermillion notitle, \
         $readings using ($2 > 0 ? $1 : away):($2 > 0 ? $6 : 0) with points pointtype 7 pointsize 1.1 * p linecolor rgb c_blue notitle, \
         keyentry with linespoints linewidth 1.6 linecolor rgb c_vermillion dashtype (9, 6) pointtype 4 pointsize 1.1 * p title name_none, \
         keyentry with linespoints linewidth 2.2 linecolor rgb c_blue pointtype 7 pointsize 1.1 * p title name_taper
}
