/* lessons: see lessons.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/lessons.h"

#include "lessons/curves.h"
#include "lessons/evidence.h"
#include "lessons/five_tests.h"
#include "lessons/responses.h"
#include "lessons/tapered.h"
#include "output/words.h"

#include <math.h>
#include <string.h>

const LessonRule lesson_rules[] = {
    {"equation",
     "The equation itself",
     responses_equation,
     {"Work readiness out by hand, so that nothing in it is magic.",
      "Such a model is a black box that only a computer can follow.",
      "The usual load on day 0, nothing on day 1, half of it on day 2. How far "
      "from its level is readiness on day 3, before the session?",
      "That each part keeps a fixed share of itself a day is an assumption. "
      "Nobody has seen fitness and fatigue apart: only their sum is tested.",
      "Work the first two rows on the board, then let pairs go on. Ask which "
      "number they would have to measure, and how."}},
    {"session",
     "What one session does",
     responses_session,
     {"See fitness and fatigue of one session part, and when it has paid.",
      "A session makes one better at once, or at the latest the day after.",
      "One hard session, nothing before or after it: how many days later is "
      "readiness highest?",
      "Nobody trains once. Days of a lone session are not days of a programme, "
      "and a model's average day is not an athlete's.",
      "Take a show of hands for a day before the picture. Then ask what they "
      "would have seen had they tested on the next day only."}},
    {"steady",
     "A steady block",
     responses_steady,
     {"See why the same training brings less and less.",
      "Twice as many weeks of the same training make twice as fit.",
      "The same load each day, from nothing: after how many days has fitness "
      "reached 90 % of where it settles?",
      "Real blocks are not steady, and real athletes begin from something. "
      "That more load would lift the plateau for ever is the model's form, "
      "not a fact.",
      "Draw the straight line that most expect into the picture, and ask where "
      "it parts from the curve."}},
    {"deload",
     "A deload week",
     responses_deload,
     {"See what an easy week gives, what it takes, and for how long.",
      "An easy week is a week lost.",
      "One week at half of the usual load, then as before: how many days after "
      "its first day is readiness highest?",
      "The model knows load alone: not sleep, school, travel or a sore knee, "
      "for which easy weeks are made as well.",
      "Point at the two ends of the curve: the peak is what was planned, the "
      "end is what it cost."}},
    {"factors",
     "One factor or two",
     evidence_factors,
     {"Find data that could tell two theories apart.",
      "After each session the body rebuilds above its level, and the next one "
      "has to fall on that day.",
      "Four weeks of a session a day, then none. If there are two factors, how "
      "far above its level is readiness three weeks later?",
      "One factor has no agreed equation; this is the simplest. Two are not "
      "proven either: the second was significant in 2 of 8 (Busso, Carasso, "
      "Lacour 1991), and fatigue did not improve prediction in two data sets "
      "(Marchal et al. 2025).",
      "Show the curve of one session first and ask which theory it supports. "
      "It supports both."}},
    {"overload",
     "Overload, then taper",
     tapered_overload,
     {"Keep apart what hard weeks bring and what the taper brings.",
      "Hard weeks before a taper make the taper work better.",
      "Three hard weeks, then two at half: how many per cent of the whole gain "
      "at the event does the taper alone bring?",
      "No model here knows health and motivation, which decide whether hard "
      "weeks can be borne. Never for somebody who is tired out, ill, or back "
      "from injury; growing athletes need a physician's word.",
      "Cover the control curves first. Ask what one would have to compare to "
      "know that it was the overload."}},
    {"tapers",
     "Three tapers and full rest to one date",
     tapered_options,
     {"Compare tapers by one number, and distrust the number.",
      "Twice the rest is twice the gain.",
      "14 days of full rest cut twice as much as 14 days at half volume. How "
      "many times as much do they gain in this model?",
      "Published tapers did best with 41-60 % less volume for 8-14 days, "
      "intensity and frequency kept (Bosquet et al. 2007): full rest as the "
      "best is a model's word, not a finding. See the lesson evidence.",
      "Ask who would dare to rest for two weeks before a final, and why, "
      "before the answer is shown."}},
    {"influence",
     "What hurts, what helps",
     responses_influence,
     {"Read off the day from which a session hurts at the event.",
      "The last hard session should be as near to the event as one can bear.",
      "How many days before the event does one more session begin to lower "
      "readiness at it?",
      "The day hangs on fatigue's time constant, which few tests can tell. "
      "Read it as a range of weeks.",
      "Let them place next week's hardest session on the axis with a finger."}},
    {"recovery",
     "Slow and fast recoverers",
     responses_recovery,
     {"See why one taper does not fit a whole squad.",
      "Who trains the same needs the same taper.",
      "Where fatigue lasts half as long again as usual, how many days longer "
      "does training hurt?",
      "The model can tell who recovers fast from many tests only, some tired "
      "and some rested. How somebody looks after a week tells little.",
      "Ask for two players in the squad that they take for slow and fast, and "
      "what they know that from."}},
    {"growth",
     "Why deep cuts overshoot",
     tapered_growth,
     {"See what it means that fatigue grows with load.",
      "The more is cut, the more is gained.",
      "If all of fatigue's gain grows with the load before, which cut of 14 "
      "days (%) gains most?",
      "No published point tells one growth from another, and no test in "
      "ordinary training does: the program averages over all of them. The "
      "form is Busso's (2003, six men).",
      "Draw the two extreme lines alone first; ask which of them they believe, "
      "and what training they would need to see to decide."}},
    {"optimiser",
     "Why an optimiser loves full rest",
     tapered_optimiser,
     {"Tell what a model says from what its form makes it say.",
      "What the computer found best is what the data say.",
      "Steps of 14 days: which cut (%) does this model call best?",
      "Neither line is evidence. Where two models of one athlete disagree, "
      "data from deep cuts would have to decide, and there are few.",
      "The same athlete, the same training, two forms: let them say which "
      "advice they would follow before they know which is which."}},
    {"reading",
     "Read before or after the session",
     responses_reading,
     {"Know which hour of the day a number belongs to.",
      "Readiness of a day is readiness of a day.",
      "The same day, before and after its session: by how much does readiness "
      "differ?",
      "Real tests fall at any hour. What matters is that the fit and the "
      "forecast read them alike.",
      "Ask when their own squad is tested, and whether that is always so."}},
    {"bundle",
     "Why five tests cannot pin the parameters",
     bundle_lesson,
     {"See how many athletes fit the same few tests.",
      "A curve that meets all the tests is the athlete's curve.",
      "Every curve meets the tests. How far apart are the gains of the same "
      "taper, from the least to the most?",
      "The sets start from the published values: with other beginnings the "
      "bundle is another. More tests, some tired and some rested, narrow it; "
      "an honest range says what they leave open.",
      "Let each row of the class defend one curve. Nobody can win; that is the "
      "lesson."}},
    {"prediction",
     "Fit against prediction",
     evidence_prediction,
     {"Tell how well a model fits from how well it predicts.",
      "The model that meets the tests best is the best model.",
      "The model that fits best: how many times as large is its error on tests "
      "that it has not seen?",
      "Invented seasons of one truth. With more tests, or more noise, another "
      "kind may predict best; the only way to know is to keep tests back.",
      "Let them choose a model by the first eight tests alone, then uncover "
      "the last four."}},
    {"retest",
     "The taper worked!",
     evidence_retest,
     {"See an effect where there is none.",
      "Give a taper to those who tested worst: if they then test better, it "
      "worked.",
      "Now nobody is given anything: everybody is tested twice. By how many "
      "centimetres does the lowest quarter of the first test change?",
      "Real retests hold learning, sleep and season as well. Who wants to know "
      "whether a taper worked needs a group without it, chosen by lot.",
      "Ask the class for the reason of the change before you tell that nothing "
      "was done. All their reasons will sound right."}},
    {"evidence",
     "What is known of tapers",
     evidence_published,
     {"Read effect sizes with their intervals, and ask who was studied.",
      "Science has found the best taper.",
      "How large is the effect of a taper that cuts volume by 41-60 %, in SDs "
      "between athletes?",
      "Averages of studies that differ; athletes who would not taper are "
      "missing. Seven elite women of a team sport showed no change after 7 "
      "days "
      "at -35 % (Frontiers in Sports and Active Living 2025). Little is known "
      "of minors: growing athletes, illness and return from injury are for a "
      "physician.",
      "Let them find the interval that is nearest to 0, and who in the room "
      "resembles the athletes in the column."}},
    {"approach",
     "The event comes nearer",
     responses_approach,
     {"See the same session turn from hurting to helping.",
      "A hard session is good or bad in itself.",
      "Of all the load of the nine weeks before the event, how many per cent "
      "hurt on its day?",
      "The model weighs load by its distance alone. What was trained, and how "
      "well, it does not know.",
      "Let the film run once in silence, then ask what moved and what stood "
      "still."}},
    {.name = NULL}};

const LessonRule *lesson_find(const char *name) {
    for (const LessonRule *r = lesson_rules; r->name; r++)
        if (strcmp(r->name, name) == 0)
            return r;
    return NULL;
}

StatusCode lesson_make(const LessonRule *rule, const Model *model,
                       const Question *question, Lesson *l, Status *status) {
    *l = (Lesson){.model = model, .params = &model->params};
    l->question = question;
    l->status = status;
    l->usual = lesson_usual_load(l->params);
    l->marks = lesson_marks(l->params, l->usual);
    l->frame = rule->frame;
    lesson_truth(l, NAN, "");
    words_model_short(model, &l->subtitle);
    text_add(&l->label, "%s",
             model->scaled ? model->unit : "units of readiness");
    l->picture = (LessonPicture){.title = rule->title,
                                 .subtitle = text_of(&l->subtitle),
                                 .y_label = text_of(&l->label),
                                 .x = l->x,
                                 .t_n = NAN,
                                 .t_g = NAN};
    rule->make(l);
    return status->code;
}

/* ---- as text ---- */

static void say(FILE *to, const char *head, const char *words) {
    Text line = {0};
    text_add(&line, "%s: %s", head, words);
    print_wrapped(to, text_of(&line), 79, 0);
    text_free(&line);
}

void lesson_print(const Lesson *l, FILE *to) {
    print_shown_line(to, l->picture.title);
    fputc('\n', to);
    say(to, "Aim", l->frame.aim);
    say(to, "Often believed", l->frame.belief);
    say(to, "Question", l->frame.question);
    fputc('\n', to);
    if (l->table.count) {
        grid_print(&l->table, to, 48);
        fputc('\n', to);
    }
    if (l->caption.length) {
        print_wrapped(to, text_of(&l->caption), 79, 0);
        fputc('\n', to);
    }
    say(to, "Answer", text_of(&l->words));
    say(to, "Limit", l->frame.limit);
    fputs(l->modelless ? "\n" : "\nModel: ", to);
    print_shown(to, l->picture.subtitle);
    fprintf(to, ".%s\n",
            l->modelless || l->model->scaled
                ? ""
                : " Readiness is in units of its own.");
}
