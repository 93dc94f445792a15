/* method: see method.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/method.h"

#include "output/footer.h"

static void add_terms(Document *doc) {
    static const char *const terms[] = {
        "taper: the days before an event on which the volume is cut; plan: the "
        "day-by-day sheet that carries it out",
        "readiness: the predicted test result, or the model's own scale where "
        "no test ties it to a unit; level plus fitness minus fatigue",
        "gain: readiness expected at the event over that without a taper",
        "90 % range: where a figure lies in 90 of 100 likely models",
        "helps in: the number of 100 likely models in which a taper gains at "
        "all; 50 is a toss of a coin",
        "of the largest: share of the largest gain possible within the limits "
        "by any daily loads",
        "training kept: share of the load planned in the days searched"};
    document_words(doc, WORDS_HEADING, "What the figures mean");
    for (size_t i = 0; i < sizeof terms / sizeof *terms; i++)
        document_words(doc, WORDS_ITEM, "%s", terms[i]);
}

static void add_method(Document *doc) {
    document_words(doc, WORDS_HEADING, "How they are reckoned");
    document_words(
        doc, WORDS_PLAIN,
        "Each session leaves two traces: fitness, which fades slowly, and "
        "fatigue, which is larger at first and fades fast (Banister 1975; "
        "Busso, Candau, Lacour 1994). Each athlete's model starts from "
        "published values and is adjusted by their own tests. What remains "
        "unknown is kept as many likely models, and every figure is a mean or "
        "a count over them: it holds if these models hold.");
    document_words(
        doc, WORDS_PLAIN,
        "Every taper within the limits is tried. A linear model always asks "
        "for the largest cut allowed in the last days and for none before: the "
        "limits are what keeps skill, sharpness and morale. It knows loads "
        "only, not sleep, travel, pain or illness.");
}

void method_notes(Document *doc) {
    add_terms(doc);
    add_method(doc);
    document_words(doc, WORDS_HEADING, "What stands behind them");
    footer_evidence(doc);
    document_words(doc, WORDS_SMALL,
                   "--notes prints with an answer its own model, limits and "
                   "assumptions.");
}
