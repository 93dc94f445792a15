/* joint_floor: see joint_floor.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/joint_floor.h"

#include <math.h>

/* What is searched, again and again under other limits. */
typedef struct {
    const JointEvent *events;
    size_t count;
    const double *weight;
    double share;
} Search28;

/* A whole number that bounds the tapers, and the limits it makes. */
typedef struct {
    int least, most;
    void (*set)(Limits *limits, int value);
} Bound;

enum { SHORTEST = 1 /* [d] */, CUT_STEP = 5 /* [%] */ };

static void set_length(Limits *limits, int value) {
    limits->max_length = value;
}

static void set_cut(Limits *limits, int value) {
    limits->max_cut = CUT_STEP * value;
}

static double value_of(const Search28 *s, const Option *options) {
    double sum = 0;
    for (size_t k = 0; k < s->count && s->weight; k++)
        sum += s->weight[k] * joint_readiness(s->events, k, options);
    return sum;
}

static double value_of_none(const Search28 *s) {
    double sum = 0;
    for (size_t k = 0; k < s->count && s->weight; k++)
        sum += s->weight[k] *
               score_aim(&s->events[k].score, s->events[k].score.base);
    return sum;
}

/* The lower of what the best and the recommended tapers leave. */
static double lowest_of(const Search28 *s, const Joint *joint, size_t *from) {
    size_t at;
    double best = joint_lowest(s->events, s->count, joint->best, &at);
    double own = joint_lowest(s->events, s->count, joint->recommended, from);
    if (own <= best)
        return own;
    *from = at;
    return best;
}

/* Searches under other limits; true if the floor is kept, and `joint` is then
 * the caller's to free. */
static bool try_limits(const Search28 *s, Limits limits, const Bound *bound,
                       int value, Joint *joint) {
    Status status = {0};
    Text why = {0};
    size_t from;
    bool kept;
    bound->set(&limits, value);
    kept = !limits_contradict(&limits, &why);
    text_free(&why);
    if (!kept)
        return false;
    kept = joint_run(s->events, s->count, s->weight, &limits, joint, &status) ==
               STATUS_OK &&
           lowest_of(s, joint, &from) >= s->share;
    if (!kept)
        joint_free(joint);
    return kept;
}

/* The largest value of a bound that keeps the floor, with its tapers; 0: none.
 */
static int largest(const Search28 *s, const Limits *limits, Bound bound,
                   Joint *joint) {
    int found = 0;
    *joint = (Joint){0};
    while (bound.least <= bound.most) {
        int middle = (bound.least + bound.most) / 2;
        Joint tried;
        if (!try_limits(s, *limits, &bound, middle, &tried)) {
            bound.most = middle - 1;
            continue;
        }
        joint_free(joint);
        *joint = tried;
        found = middle;
        bound.least = middle + 1;
    }
    return found;
}

/* Takes the better of shorter tapers and shallower ones; where nothing is known
 * of that, shallower ones, which stay nearer to the published band. */
static void hold_back(const Search28 *s, const Limits *limits, Joint *joint,
                      JointFloor *floor) {
    Bound lengths = {SHORTEST, limits->max_length - 1, set_length};
    Bound cuts = {1, (int)ceil(limits->max_cut / CUT_STEP) - 1, set_cut};
    Joint shorter, shallower;
    int length = largest(s, limits, lengths, &shorter);
    int cut = largest(s, limits, cuts, &shallower);
    bool first = length > 0 &&
                 (cut == 0 || (s->weight && value_of(s, shorter.best) >=
                                                value_of(s, shallower.best)));
    if (length > 0 || cut > 0) {
        Joint taken = first ? shorter : shallower;
        joint_free(joint);
        *joint = taken;
        joint_free(first ? &shallower : &shorter);
        floor->holds_back = true;
        floor->max_length = first ? length : 0;
        floor->max_cut = first ? 0 : CUT_STEP * cut;
    }
}

StatusCode joint_floor_run(const JointEvent *events, size_t count,
                           const double *weight, const Limits *limits,
                           double share, Joint *joint, JointFloor *floor,
                           Status *status) {
    const Search28 s = {events, count, weight, share};
    StatusCode code = joint_run(events, count, weight, limits, joint, status);
    *floor = (JointFloor){.lowest = 1};
    if (code != STATUS_OK)
        return code;
    floor->lifted = value_of(&s, joint->best) - value_of_none(&s);
    if (share > 0 && lowest_of(&s, joint, &floor->from) < share)
        hold_back(&s, limits, joint, floor);
    floor->lowest =
        joint_lowest(events, count, joint->recommended, &floor->from);
    floor->gain = value_of(&s, joint->best) - value_of_none(&s);
    return STATUS_OK;
}

Limits joint_floor_limits(const JointFloor *floor, const Limits *limits) {
    Limits held = *limits;
    if (floor->holds_back && floor->max_length > 0)
        held.max_length = floor->max_length;
    else if (floor->holds_back)
        held.max_cut = floor->max_cut;
    return held;
}
