# posterior: the two time constants, as draws from before the tests (prior) and
# given the tests (posterior), with the best fit.
#
# Needs
#   title, subtitle   strings
#   prior_count, posterior_count
#                     how many draws of each
#   prior_tau1_low, prior_tau1_middle, prior_tau1_high, and so for tau2 and for
#   posterior         [d] 5, 50 and 95 % points of the draws; NaN: no draws
#   best_tau1, best_tau2
#                     [d] best fit; NaN: none
#   $prior, $posterior
#                     rows: tau1, tau2 [d], above 0; one row of NaN if there
#                     are no draws
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

# ---- ranges, on log axes ----

has_best = best_tau1 == best_tau1 && best_tau2 == best_tau2
widen(share) = low != low ? (low = 1, high = 100, 1) : \
               (gap = exp(share * log(high / low)), gap = gap < 1.08 ? 1.08 : gap, \
                low = low / gap, high = high * gap, 1)
low = best_tau1
high = best_tau1
dummy = (sum [i = 1:|$prior|] take(field($prior[i], 1))) + (sum [i = 1:|$posterior|] take(field($posterior[i], 1)))
dummy = widen(0.04)
x_low = low
x_high = high
low = best_tau2
high = best_tau2
dummy = (sum [i = 1:|$prior|] take(field($prior[i], 2))) + (sum [i = 1:|$posterior|] take(field($posterior[i], 2)))
dummy = widen(0.04)
y_low = low
y_high = high

set logscale xy
set xrange [x_low:x_high]
set yrange [y_low:y_high]
unset mxtics
unset mytics
set xtics ()
set ytics ()

# Labels: in equal steps if the range is short, else the same in each decade.
round_up(v) = v <= 1 ? 1 : v <= 2 ? 2 : v <= 5 ? 5 : 10
step_of(v) = (power = 10 ** floor(log10(v)), power * round_up(v / power))
do for [axis = 1:2] {
    low = axis == 1 ? x_low : y_low
    high = axis == 1 ? x_high : y_high
    in_steps = high / low < 4
    step = in_steps ? step_of((high - low) / 7) : 1
    decade = floor(log10(low))
    every = ceil((log10(high) - decade) / 8)
    each = every > 1 ? '1' : high / low < 20 ? '1 1.5 2 3 4 5 7' : '1 2 5'
    labels = in_steps ? 1 + int((high - low) / step) : words(each) * (1 + int(log10(high) - decade))
    do for [i = 0:labels] {
        v = in_steps ? (ceil(low / step) + i) * step : real(word(each, 1 + i % words(each))) * 10 ** (decade + every * int(i / words(each)))
        if (v >= low && v <= high) {
            if (axis == 1) { set xtics add (sprintf('%.6g', v) v) } else { set ytics add (sprintf('%.6g', v) v) }
        }
    }
}

# ---- where tau2 would be above tau1 ----

# On log axes its border is straight, so its corners are enough.
edge_end = x_high < y_high ? x_high : y_high
has_region = x_low < y_high
far = 1e15
set print $region
if (has_region) {
    print sprintf('%.10g %.10g', x_low, y_high)
    print sprintf('%.10g %.10g', x_low, x_low > y_low ? x_low : y_low)
    if (x_low < y_low && y_low < edge_end) { print sprintf('%.10g %.10g', y_low, y_low) }
    print sprintf('%.10g %.10g', edge_end, edge_end > y_low ? edge_end : y_low)
    print sprintf('%.10g %.10g', edge_end, y_high)
} else {
    print sprintf('%.10g %.10g', far, far)
}
set print

# ---- layout and legend ----

has_prior = prior_count > 0
has_posterior = posterior_count > 0
range_of(a, b) = sprintf('%.3g to %.3g d', a, b)
both(a, b, c, d) = '90 % range: tau1 '.range_of(a, b).', tau2 '.range_of(c, d)
prior_key = 'before the tests (prior)    '.both(prior_tau1_low, prior_tau1_high, prior_tau2_low, prior_tau2_high)
posterior_key = 'given the tests (posterior)  '.both(posterior_tau1_low, posterior_tau1_high, posterior_tau2_low, posterior_tau2_high)
best_key = sprintf('best fit: tau1 %.3g d, tau2 %.3g d', best_tau1, best_tau2)
region_key = 'not possible: tau2 above tau1'
key_rows = has_prior + has_posterior + has_best + has_region
key_rows = key_rows > 0 ? key_rows : 1

x_name = 'tau1: how long fitness stays (days, log scale)'
y_name = 'tau2: how long fatigue stays (days, log scale)'
bottom = plain_text ? line(key_rows + 5) : 0.16 + 0.033 * key_rows
top = plain_text ? line(28) : 0.825
set lmargin at screen (plain_text ? 0.08 : 0.09)
set rmargin at screen (plain_text ? 0.96 : 0.935)
set tmargin at screen top
set bmargin at screen bottom
set xlabel x_name

# Intervals lie outside the panel, along its upper and right edges.
put(on, v) = on ? v : far
if (plain_text) {
    set label 3 y_name at screen 0.02, line(31) left
    set label 4 '90 % range of tau1, given the tests: |---|' at screen 0.98, line(31) right
    if (has_posterior) {
        set arrow 1 from first posterior_tau1_low, screen line(29) to first posterior_tau1_high, screen line(29) nohead linetype 0
    }
    set key at screen 0.98, line(0) right bottom vertical maxrows key_rows
    plot for [k = 1:has_region] $region using (put(has_region, $1)):(put(has_region, $2)) with lines linetype 0 title region_key, \
         for [k = 1:has_prior] $prior using (put(has_prior, $1)):(put(has_prior, $2)) with points pointtype '.' title prior_key, \
         for [k = 1:has_posterior] $posterior using (put(has_posterior, $1)):(put(has_posterior, $2)) with points pointtype 'o' title posterior_key, \
         for [k = 1:has_best] '+' using (put(has_best, best_tau1)):(put(has_best, best_tau2)) every ::0::0 with points pointtype 'X' title best_key, \
         far notitle
} else {
    set label 3 y_name at screen 0.022, 0.5 * (top + bottom) center rotate by 90 font font_for(y_name, columns * 0.62 * (top - bottom))
    set label 4 '90 % range' at screen 0.99, graph 1 right offset 0, 1.5 font f_small textcolor rgb c_grey
    set grid xtics ytics
    do for [k = 1:2] {
        on = k == 1 ? has_prior : has_posterior
        word_k = k == 1 ? 'prior' : 'posterior'
        if (on) {
            place = k == 1 ? 0.045 : 0.02
            set style arrow k nohead linewidth (k == 1 ? 4 : 6) linecolor rgb (k == 1 ? c_pale : c_blue)
            set arrow 10 * k + 1 from first value(word_k.'_tau1_low'), graph 1 + place to first value(word_k.'_tau1_high'), graph 1 + place arrowstyle k
            set arrow 10 * k + 2 from graph 1 + 0.65 * place, first value(word_k.'_tau2_low') to graph 1 + 0.65 * place, first value(word_k.'_tau2_high') arrowstyle k
        }
    }
    set key at screen 0.5, 0.018 center bottom vertical maxrows key_rows Left reverse samplen 3 spacing 1.2
    plot for [k = 1:has_region] $region using (put(has_region, $1)):(put(has_region, $2)) with filledcurves closed fillcolor rgb s_never fillstyle solid 1 noborder notitle, \
         for [k = 1:has_region] $region using (put(has_region, $1)):(put(has_region, $2)) with lines linewidth 0.7 linecolor rgb c_edge notitle, \
         for [k = 1:has_prior] $prior using (put(has_prior, $1)):(put(has_prior, $2)) with points pointtype 7 pointsize 0.55 * p linecolor rgb c_pale notitle, \
         for [k = 1:has_posterior] $posterior using (put(has_posterior, $1)):(put(has_posterior, $2)) with points pointtype 13 pointsize 0.8 * p linecolor rgb '#400072B2' notitle, \
         for [k = 1:has_best] '+' using (put(has_best, best_tau1)):(put(has_best, best_tau2)) every ::0::0 with points pointtype 2 pointsize 2 * p linewidth 8 linecolor rgb '#FFFFFF' notitle, \
         for [k = 1:has_best] '+' using (put(has_best, best_tau1)):(put(has_best, best_tau2)) every ::0::0 with points pointtype 2 pointsize 1.8 * p linewidth 4 linecolor rgb c_vermillion notitle, \
         far notitle, \
         for [k = 1:has_prior] keyentry with points pointtype 7 pointsize 1.1 * p linecolor rgb c_pale title prior_key, \
         for [k = 1:has_posterior] keyentry with points pointtype 13 pointsize 1.3 * p linecolor rgb c_blue title posterior_key, \
         for [k = 1:has_best] keyentry with points pointtype 2 pointsize 1.5 * p linewidth 4 linecolor rgb c_vermillion title best_key, \
         for [k = 1:has_region] keyentry with boxes fillcolor rgb s_never fillstyle solid 1 border linecolor rgb c_edge title region_key
}
