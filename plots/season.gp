# season: readiness of a season (upper panel); load, fitness and fatigue (lower
# panel), day by day.
#
# Needs
#   title, subtitle   strings
#   load_label, readiness_label
#                     strings, vertical axes with their units
#   test_label        string, axis of the tests with its unit; '' for none
#   events_count      how many events
#   event_name_1 ..   strings, as many
#   same_scale        1 if readiness is in the unit of the tests
#   tests_count       how many tests; 0: $tests is not there
#   taper_from, taper_to
#                     [s] since 1970 UTC, first and last day; NaN: no taper
#   handed            1 if planned loads are those of the plan handed out
#   today             [s] since 1970 UTC; NaN: not shown
#   has_band          1 if low and high are there
#   first_day, last_day
#                     [s] since 1970 UTC
#   has_readiness, has_fitness, has_fatigue, loads_logged, loads_planned
#                     1 if there are such values; fatigue: other than 0
#   readiness_least, readiness_most, band_..., fitness_..., fatigue_..., load_most
#                     the range of each; NaN: no values. Of loops over the rows
#                     gnuplot is slow
#   $days             rows: time [s since 1970 UTC], load, fitness, fatigue
#                     [readiness], readiness, low, high [readiness], 1 for a
#                     logged and 0 for a planned day
#   $tests            rows: time [s since 1970 UTC], value
#   $events           rows: first and last day [s since 1970 UTC]
#   weeks_count       how many weeks of blocks of training to come
#   week_name_1 ..    strings, as many: the block that begins; '': it goes on
#   $weeks            rows: first day, last day, last day of the block
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

day = 86400.0

# ---- ranges ----

x_low = first_day - 0.7 * day
x_high = last_day + 0.7 * day
days_total = (last_day - first_day) / day + 1

low = NaN
dummy = take(readiness_least) + take(readiness_most)
has_range = has_band && band_least == band_least
if (has_range) { dummy = take(band_least) + take(band_most) }
dummy = wide(0.07)
readiness_low = low
readiness_high = high

if (tests_count < 1) {
    set print $tests
    print '0 NaN'
    set print
}
low = NaN
in_view(t) = t >= x_low && t <= x_high
has_tests = tests_count < 1 ? 0 : (sum [i = 1:|$tests|] (in_view(field($tests[i], 1)) ? take(field($tests[i], 2)) : 0))
dummy = wide(0.2)
test_low = low
test_high = high
if (same_scale && has_tests && readiness_low == readiness_low) {
    readiness_low = test_low < readiness_low ? test_low : readiness_low
    readiness_high = test_high > readiness_high ? test_high : readiness_high
    test_low = readiness_low
    test_high = readiness_high
}

load_high = load_most > 0 ? 1.6 * load_most : 1

low = 0
high = 0
dummy = take(fitness_least) + take(fitness_most)
fitness_high = high
dummy = take(fatigue_least) + take(fatigue_most)
response_label = 'fitness, fatigue (units of readiness)'
response_low = low < 0 ? 1.1 * low : 0
response_high = high > 0 ? (weeks_count > 0 ? 1.25 : 1.1) * high : 1

has_taper = taper_from == taper_from && taper_to == taper_to && taper_to + day > x_low && taper_from < x_high
taper_x1 = has_taper ? (taper_from - 0.5 * day > x_low ? taper_from - 0.5 * day : x_low) : x_low
taper_x2 = has_taper ? (taper_to + 0.5 * day < x_high ? taper_to + 0.5 * day : x_high) : x_low
has_today = today == today && in_view(today)

# ---- where things are, in shares of the picture ----

x_left = plain_text ? 0.10 : narrow ? 0.14 : 0.09
x_right = plain_text ? 0.90 : narrow ? (has_fitness || has_tests ? 0.895 : 0.975) : has_fitness || has_tests ? 0.915 : 0.965
screen_x(t) = x_left + (x_right - x_left) * (t - x_low) / (x_high - x_low)
row_height = plain_text ? 0.0278 : narrow ? px(16) : 0.036
character = 1.0 / columns
limit = 0.985

# Names of the events stand in up to three rows above the upper panel; from the
# last event to the first, each takes the lowest row with room.
array row_start[3] = [limit, limit, limit]
array name_row[events_count > 0 ? events_count : 1]
array name_x[events_count > 0 ? events_count : 1]
array name_text[events_count > 0 ? events_count : 1]
rows_used = 0
do for [k = events_count:1:-1] {
    name_row[k] = 0
    event_start = field($events[k], 1)
    event_end = field($events[k], 2)
    event_text = value('event_name_'.k)
    event_text = fit(event_text, plain_text ? 36 : narrow ? 24 : 48)
    if (event_end + 0.5 * day > x_low && event_start - 0.5 * day < x_high) {
        event_x = screen_x(event_start < x_low ? x_low : event_start)
        width = strlen(event_text) * character
        start = (event_x + width > limit ? limit - width : event_x)
        use = 0
        do for [r = 1:3] {
            if (!use && start + width + (row_start[r] < limit ? 2 * character : 0) <= row_start[r] + 1e-9) { use = r }
        }
        if (!use) {
            use = 1
            do for [r = 2:3] { if (row_start[r] > row_start[use]) { use = r } }
            room = int((row_start[use] - event_x) / character) - 2
            start = event_x
            event_text = room >= 5 ? fit(event_text, room) : ''
        }
        if (strlen(event_text) > 0) {
            name_row[k] = use
            name_x[k] = start
            name_text[k] = event_text
            row_start[use] = start
            rows_used = use > rows_used ? use : rows_used
        }
    }
}
# Of a narrow picture the axes' names stand above the panels.
second_axis = has_tests && !(narrow && same_scale)
axis_rows = second_axis ? 2 : 1
name_y(r) = plain_text ? y1_top + (r + 2) / 36.0 : y1_top + row_height * (r - 0.35)
y1_top = plain_text ? line(31 - rows_used) : narrow ? 1 - px(axis_rows * 16 + 4) - row_height * rows_used : 0.88 - row_height * rows_used
y1_bottom = plain_text ? line(20) : narrow ? px(288) : 0.525
y2_top = plain_text ? line(16) : narrow ? px(266) : 0.48
y2_bottom = plain_text ? line(4) : narrow ? px(134) : 0.155

# [characters of f_small] room for the name of an axis along a panel
room_1 = columns * 0.62 * (y1_top - y1_bottom + 0.03)
room_2 = columns * 0.62 * (y2_top - y2_bottom + 0.03)

# Long seasons get thinner lines and no hatching.
thin = days_total > 700 ? 0.45 : days_total > 300 ? 0.65 : 1
lines = narrow ? 0.6 * thin : thin

# ---- dates: one label a day, week, month or more ----

month_step = narrow ? (days_total <= 182 ? 0 : ceil(days_total / 182.0)) : days_total <= 112 ? 0 : days_total <= 430 ? 1 : days_total <= 1200 ? 3 : days_total <= 2500 ? 6 : 12
is_monday(t) = tm_wday(t) == 1
monday_step = narrow ? ceil(days_total / 35) : 1
labelled(t) = days_total <= (narrow ? 5 : 10) ? 1 : month_step == 0 ? is_monday(t) && int(t / day / 7) % monday_step == 0 : (tm_mday(t) == 1 && int(tm_mon(t)) % month_step == 0)
label_of(t) = month_step > 1 && !narrow ? strftime('%b %Y', t) : strftime('%d %b', t)
set xrange [x_low:x_high]
set lmargin at screen x_left
set rmargin at screen x_right
set format y '%.5g'
set format y2 '%.5g'
unset xtics
set multiplot

# ---- the marks that both panels share ----

if (plain_text) {
    if (has_taper) {
        set arrow 1 from taper_x1, graph 0 to taper_x1, graph 1 nohead linetype 0
        set arrow 2 from taper_x2, graph 0 to taper_x2, graph 1 nohead linetype 0
    }
    if (has_today) { set arrow 3 from today, graph 0 to today, graph 1 nohead linetype 0 }
} else {
    if (has_taper) {
        set object 1 rectangle from taper_x1, graph 0 to taper_x2, graph 1 behind fillcolor rgb s_taper fillstyle solid 1 border linecolor rgb c_edge
    }
    if (has_today) { set arrow 3 from today, graph 0 to today, graph 1 nohead front linewidth 1.6 linecolor rgb c_grey dashtype (1.5, 3) }
}
do for [k = 1:events_count] {
    event_x1 = field($events[k], 1) - 0.5 * day
    event_x2 = field($events[k], 2) + 0.5 * day
    if (event_x2 > x_low && event_x1 < x_high) {
        event_x1 = event_x1 < x_low ? x_low : event_x1
        event_x2 = event_x2 > x_high ? x_high : event_x2
        if (plain_text) {
            set arrow 100 + k from 0.5 * (event_x1 + event_x2), graph 0 to 0.5 * (event_x1 + event_x2), graph 1 nohead linetype 0
        } else {
            set object 100 + k rectangle from event_x1, graph 0 to event_x2, graph 1 behind fillcolor rgb s_event fillstyle solid 1 border linecolor rgb c_orange
        }
    }
}

# ---- upper panel ----

# A box keeps the line of one event off the name of another; svg would print
# boxed text twice.

set tmargin at screen y1_top
set bmargin at screen y1_bottom
set yrange [readiness_low:readiness_high]
set y2range [test_low:test_high]
unset key
set border second_axis ? 11 : 3
if (second_axis) { set y2tics }
do for [k = 1:events_count] {
    if (name_row[k]) {
        if (plain_text) {
            set label 100 + k name_text[k] at screen name_x[k], name_y(name_row[k]) left
        } else {
            if (is_svg) {
                set label 100 + k name_text[k] at screen name_x[k], name_y(name_row[k]) left front font f_small
            } else {
                set label 100 + k name_text[k] at screen name_x[k], name_y(name_row[k]) left boxed front font f_small
            }
            event_x = field($events[k], 1) < x_low ? x_low : field($events[k], 1)
            set arrow 200 + k from first event_x, graph 1 to first event_x, screen name_y(name_row[k]) nohead back linewidth 1 linecolor rgb c_orange
        }
    }
}
if (plain_text) {
    set label 3 fit(readiness_label, has_tests ? 40 : 70) at screen 0.02, y1_top + 2 / 36.0 left
    if (has_tests) { set label 4 fit(test_label, 40) at screen 0.98, y1_top + 2 / 36.0 right }
    set label 5 has_today ? 'today' : '' at first (has_today ? today : x_low), screen y1_bottom - 1 / 36.0 right
    set label 6 has_taper ? 'taper' : '' at first taper_x2, screen y1_bottom - 1 / 36.0 right
    plot NaN notitle, \
         for [k = 1:has_readiness > 0] $days using (has_readiness ? $1 : away):(has_readiness ? $5 : 0) with lines linetype 1 notitle, \
         for [k = 1:has_tests > 0] $tests using (has_tests ? $1 : away):(has_tests ? $2 : 0) axes x1y2 with points pointtype 4 notitle
} else {
    if (narrow) {
        set label 3 fit(readiness_label, 44) at screen 0.01, 1 - px(10) left front font f_small
        if (second_axis) { set label 4 fit(test_label, 44) at screen 0.99, 1 - px(26) right front textcolor rgb c_blue font f_small }
    } else {
    set label 3 fit(readiness_label, room_1 * 1.36) at screen 0.02, 0.5 * (y1_top + y1_bottom) center rotate by 90 font font_for(readiness_label, room_1)
    if (has_tests) { set label 4 fit(test_label, room_1 * 1.36) at screen 0.982, 0.5 * (y1_top + y1_bottom) center rotate by 90 textcolor rgb c_blue font font_for(test_label, room_1) }
    if (has_today) { set label 5 'today' at first today, screen 0.5 * (y1_bottom + y2_top) center front font f_small textcolor rgb c_grey }
    }
    plot NaN notitle, \
         for [k = 1:has_range > 0] $days using (has_range ? $1 : away):(has_range ? $6 : 0):(has_range ? $7 : 0) with filledcurves fillcolor rgb s_range fillstyle solid 1 noborder notitle, \
         for [k = 6:7 * (has_range > 0)] $days using (has_range ? $1 : away):(has_range ? column(k) : 0) with lines linewidth 0.7 linecolor rgb c_edge notitle, \
         for [k = 1:has_readiness > 0] $days using (has_readiness ? $1 : away):(has_readiness ? $5 : 0) with lines linewidth 3.2 * lines linecolor rgb c_readiness notitle, \
         for [k = 1:has_tests > 0] $tests using (has_tests ? $1 : away):(has_tests ? $2 : 0) axes x1y2 with points pointtype 13 pointsize 1.8 * p linecolor rgb '#FFFFFF' notitle, \
         for [k = 1:has_tests > 0] $tests using (has_tests ? $1 : away):(has_tests ? $2 : 0) axes x1y2 with points pointtype 13 pointsize 1.3 * p linecolor rgb c_blue notitle
}

# ---- lower panel, with the legend of both ----

do for [k = 1:events_count] {
    if (name_row[k]) {
        unset label 100 + k
        if (!plain_text) { unset arrow 200 + k }
    }
}
unset label 1
unset label 2
unset label 3
unset label 4
unset label 5
unset label 6
do for [k = 1:weeks_count] {
    week_x1 = field($weeks[k], 1) - 0.5 * day
    week_x2 = field($weeks[k], 2) + 0.5 * day
    week_x3 = field($weeks[k], 3) + 0.5 * day
    if (week_x2 > x_low && week_x1 < x_high) {
        week_x1 = week_x1 < x_low ? x_low : week_x1
        week_x2 = week_x2 > x_high ? x_high : week_x2
        week_x3 = week_x3 > x_high ? x_high : week_x3
        if (plain_text) {
            set arrow 300 + k from week_x1, graph 0.9 to week_x1, graph 1 nohead linetype 0
        } else {
            set object 300 + k rectangle from week_x1, graph 0.92 to week_x2, graph 1 front fillcolor rgb s_range fillstyle solid 1 border linecolor rgb c_grey
        }
        room = int((screen_x(week_x3) - screen_x(week_x1)) / character) - 1
        week_text = value('week_name_'.k)
        if (strlen(week_text) > 0 && room >= 3) {
            week_text = fit(week_text, room)
            set label 300 + k week_text at first week_x1 + 0.3 * day, graph 0.96 left front font f_small
        }
    }
}
set border 11
set tmargin at screen y2_top
set bmargin at screen y2_bottom
set yrange [0:load_high]
set y2range [response_low:response_high]
set y2tics
set xtics () nomirror out font f_small
set xtics scale (plain_text ? 1 : 0.8), (plain_text ? 0 : 0.4)
do for [i = 0:int(days_total + 0.5) - 1] {
    t = first_day + i * day
    if (labelled(t)) {
        set xtics add (label_of(t) t)
    } else {
        if (month_step == 1 && is_monday(t) || month_step == 3 && tm_mday(t) == 1) { set xtics add ('' t 1) }
    }
}
if (plain_text) {
    set label 3 fit(load_label, 44) at screen 0.02, y2_top + 2 / 36.0 left
    set label 4 response_label at screen 0.98, y2_top + 2 / 36.0 right
    set key at screen 0.5, line(0) center bottom horizontal maxrows 2
    plot NaN notitle, \
         for [k = 1:loads_logged > 0] $days using (loads_logged && $8 > 0 ? $1 : away):(loads_logged && $8 > 0 ? $2 : 0) with impulses linetype 5 title 'load', \
         for [k = 1:loads_planned > 0] $days using (loads_planned && $8 <= 0 ? $1 : away):(loads_planned && $8 <= 0 ? $2 : 0) with impulses linetype 0 title (handed ? 'handed out' : 'planned load'), \
         for [k = 1:has_fitness > 0] $days using (has_fitness ? $1 : away):(has_fitness ? $3 : 0) axes x1y2 with lines linetype 2 title 'fitness', \
         for [k = 1:has_fatigue > 0] $days using (has_fatigue ? $1 : away):(has_fatigue ? $4 : 0) axes x1y2 with lines linetype 3 title 'fatigue', \
         for [k = 1:has_readiness > 0] keyentry with lines linetype 1 title 'readiness', \
         for [k = 1:has_tests > 0] keyentry with points pointtype 4 title 'test'
} else {
    if (narrow) {
        set label 3 fit(load_label, 27) at screen 0.01, y2_top + px(10) left front font f_small
        set label 4 (has_fitness || has_fatigue ? 'fitness, fatigue' : '') at screen 0.99, y2_top + px(10) right front font f_small
    } else {
    set label 3 fit(load_label, room_2 * 1.36) at screen 0.02, 0.5 * (y2_top + y2_bottom) center rotate by 90 font font_for(load_label, room_2)
    set label 4 response_label at screen 0.982, 0.5 * (y2_top + y2_bottom) center rotate by 90 font font_for(response_label, room_2)
    }
    set boxwidth 0.8 * day absolute
    pale = thin < 1 || narrow
    if (pale) { set style fill solid 1 noborder } else { set style fill solid 0.2 border }
    planned_colour = pale ? c_pale : c_bar
    set style line 20 linewidth 0.8 linecolor rgb planned_colour
    set key at screen 0.5, (narrow ? px(3) : 0.02) center bottom vertical maxrows (narrow ? 5 : 2) Left reverse samplen (narrow ? 2.4 : 3.5) spacing (narrow ? 1.05 : 1.2) width 1
    # A loop that runs no time leaves a gap in the legend: not so an empty title.
    plot NaN with lines linewidth 1.6 linecolor rgb c_grey dashtype (1.5, 3) title (narrow && has_today ? 'today' : ''), \
         for [k = 1:loads_logged > 0] $days using (loads_logged && $8 > 0 ? $1 : away):(loads_logged && $8 > 0 ? $2 : 0) with boxes fillcolor rgb c_bar fillstyle solid 1 noborder notitle, \
         for [k = 1:loads_planned > 0] $days using (loads_planned && $8 <= 0 ? $1 : away):(loads_planned && $8 <= 0 ? $2 : 0) with boxes linestyle 20 notitle, \
         for [k = 1:has_fatigue > 0] $days using (has_fatigue ? $1 : away):(has_fatigue ? $4 : 0) axes x1y2 with lines linewidth 2.6 * lines linecolor rgb c_fatigue dashtype (10, 4) notitle, \
         for [k = 1:has_fitness > 0] $days using (has_fitness ? $1 : away):(has_fitness ? $3 : 0) axes x1y2 with lines linewidth 3.8 * lines linecolor rgb c_fitness notitle, \
         for [k = 1:has_readiness > 0] keyentry with lines linewidth 3.2 * (narrow ? 0.6 : 1) linecolor rgb c_readiness title 'readiness', \
         for [k = 1:has_fitness > 0] keyentry with lines linewidth 3.8 * (narrow ? 0.6 : 1) linecolor rgb c_fitness title 'fitness', \
         for [k = 1:has_fatigue > 0] keyentry with lines linewidth 2.6 * (narrow ? 0.6 : 1) linecolor rgb c_fatigue dashtype (10, 4) title 'fatigue', \
         for [k = 1:has_range > 0] keyentry with boxes fillcolor rgb s_range fillstyle solid 1 border linecolor rgb c_edge title '90 % range', \
         for [k = 1:loads_logged > 0] keyentry with boxes fillcolor rgb c_bar fillstyle solid 1 noborder title 'load, logged', \
         for [k = 1:loads_planned > 0] keyentry with boxes linestyle 20 title (handed ? (narrow ? 'as handed out' : 'load, plan handed out') : 'load, planned'), \
         for [k = 1:has_tests > 0] keyentry with points pointtype 13 pointsize 1.3 * p linecolor rgb c_blue title 'test', \
         for [k = 1:has_taper] keyentry with boxes fillcolor rgb s_taper fillstyle solid 1 border linecolor rgb c_edge title 'taper'
}
unset multiplot
