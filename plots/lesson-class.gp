# lesson-class: a class's answers to a lesson's question, a row a student by
# rising answer, against the model's.
#
# Needs
#   title, subtitle, x_label
#                     strings
#   truth, middle     the model's answer and the middle one of the class
#   student_1 ..      strings, as many as rows
#   $answers          rows: place from 1, answer
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

count = |$answers|
named = count <= 40
low = NaN
dummy = take(truth) + take(middle)
dummy = sum [i = 1:count] take(field($answers[i], 2))
dummy = wide(0.08)
f_name = sprintf(',%.1f', f_base * (count <= 24 ? 0.86 : 0.86 * 24 / count > 0.632 ? 0.86 * 24 / count : 0.632))
set xrange [low:high]
set yrange [0:count + 1]
set lmargin at screen (plain_text ? 0.24 : 0.20)
set rmargin at screen 0.965
set tmargin at screen (plain_text ? line(31) : 0.86)
set bmargin at screen (plain_text ? line(7) : 0.20)
set xlabel fit(x_label, 90)
unset ytics
if (named) {
    do for [i = 1:count] { set label 10 + i fit(value('student_'.i), 22) at graph -0.01, first i right front }
    if (!plain_text) { do for [i = 1:count] { set label 10 + i font f_name } }
}
truth_name = sprintf('the model: %.4g', truth)
middle_name = sprintf('middle of the class: %.4g', middle)
set key at screen 0.5, screen (plain_text ? line(1) : 0.02) center bottom maxrows 1
$two << EOD
0
1
EOD
ends(x) = x == 0 ? 0 : count + 1
if (plain_text) {
    plot $two using (truth):(ends($1)) with lines linetype 1 title truth_name, \
         $two using (middle):(ends($1)) with lines linetype 2 title middle_name, \
         $answers using 2:1 with points pointtype 7 notitle
} else {
    set grid xtics back linetype 1 linewidth 0.7 linecolor rgb c_rule
    plot $two using (truth):(ends($1)) with lines linewidth 3.4 linecolor rgb c_black title truth_name, \
         $two using (middle):(ends($1)) with lines linewidth 2.6 linecolor rgb c_vermillion dashtype (9, 6) title middle_name, \
         $answers using 2:1 with points pointtype 7 pointsize 1.4 * p linecolor rgb c_blue notitle
}
