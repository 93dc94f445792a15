/* sliders: see sliders.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/sliders.h"

#include "base/home.h"
#include "base/outfile.h"
#include "base/text.h"
#include "present/page.h"
#include "response/model.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- the models, as JSON ---- */

/* A text between quotes; what could end the script or the text is escaped. */
static void put_text(const char *text, Text *json) {
    text_put(json, "\"", 1);
    for (const unsigned char *c = (const unsigned char *)text; *c; c++)
        if (*c < ' ' || strchr("\"\\<>&", *c))
            text_add(json, "\\u%04x", *c);
        else
            text_put(json, (const char *)c, 1);
    text_put(json, "\"", 1);
}

/* Fatigue for each part of fitness, at the usual load; NAN: not one number. */
static double ratio_of(const Model *m) {
    const double *v = m->params.value;
    if (m->params.kind == RESPONSE_TWO_COMPONENT)
        return v[PARAM_K2] / v[PARAM_K1];
    return m->params.kind == RESPONSE_GRADED ? v[PARAM_RATIO] : NAN;
}

static const char *kind_of(const Model *m) {
    return m->params.kind == RESPONSE_ONE_COMPONENT   ? "one"
           : m->params.kind == RESPONSE_TWO_COMPONENT ? "two"
           : m->params.kind == RESPONSE_GRADED        ? "growing"
                                                      : NULL;
}

static void put_preset(const Model *m, Text *json) {
    const double *v = m->params.value;
    text_add(json, "%s{\"name\":", json->length > 1 ? "," : "");
    put_text(m->name, json);
    text_add(json, ",\"set\":{\"kind\":\"%s\",\"tau1\":%.9g", kind_of(m),
             v[PARAM_TAU1]);
    if (m->params.kind != RESPONSE_ONE_COMPONENT)
        text_add(json, ",\"tau2\":%.9g,\"ratio\":%.9g", v[PARAM_TAU2],
                 ratio_of(m));
    if (m->params.kind == RESPONSE_GRADED)
        text_add(json, ",\"growth\":%.9g,\"tau3\":%.9g", 100 * v[PARAM_GROWTH],
                 v[PARAM_TAU3]);
    text_add(json, "}}");
}

/* ---- marks ---- */

/* Appends the text with the mark's first place filled. */
static void fill(const char *text, const char *mark, const char *with,
                 Text *filled) {
    const char *at = strstr(text, mark);
    text_clear(filled);
    if (!at) {
        text_add(filled, "%s", text);
        return;
    }
    text_put(filled, text, (size_t)(at - text));
    text_put(filled, with, strlen(with));
    at += strlen(mark);
    text_put(filled, at, strlen(at));
}

/* The policy's name for what stands between the last `open` and the `close`
 * behind it. */
static void put_hash(const char *page, const char *open, const char *close,
                     Text *policy) {
    const char *from = page, *next = page, *to;
    while ((next = strstr(next, open)) != NULL)
        from = next += strlen(open);
    to = strstr(from, close);
    text_add(policy, " ");
    page_hash(from, to ? (size_t)(to - from) : 0, policy);
}

/* Appends the template with its marks filled in. */
static void fill_page(const char *page, const char *presets, Text *filled) {
    Text with_models = {0}, with_version = {0}, policy = {0};
    fill(page, "@PRESETS@", presets, &with_models);
    fill(text_of(&with_models), "@VERSION@", VERSION, &with_version);
    text_add(&policy, "default-src 'none'; base-uri 'none'; form-action "
                      "'none'; style-src");
    put_hash(text_of(&with_version), "<style>", "</style>", &policy);
    text_add(&policy, "; script-src");
    put_hash(text_of(&with_version), "<script>", "</script>", &policy);
    fill(text_of(&with_version), "@POLICY@", text_of(&policy), filled);
    text_free(&with_models);
    text_free(&with_version);
    text_free(&policy);
}

/* ---- the files ---- */

/* The models at hand, as JSON. */
static void put_presets(Text *json, Notes *notes) {
    char *folder = home_folder("models"), **names = model_names(folder);
    text_add(json, "[");
    for (size_t i = 0; names && names[i]; i++) {
        Model model = {0};
        if (model_find(names[i], folder, &model, notes) && kind_of(&model))
            put_preset(&model, json);
        model_free(&model);
    }
    text_add(json, "]");
    model_names_free(names);
    free(folder);
}

static void write_text(const void *text, FILE *to) {
    fputs(text_of(text), to);
}

StatusCode sliders_write(const char *path, Notes *notes, Status *status) {
    Text page = {0}, presets = {0}, filled = {0};
    StatusCode code = home_read("data/lessons", "sliders.html", &page, status);
    if (code == STATUS_OK) {
        put_presets(&presets, notes);
        code = notes_code(notes);
    }
    if (code == STATUS_OK) {
        fill_page(text_of(&page), text_of(&presets), &filled);
        code = outfile_write(path, write_text, &filled, status);
    }
    text_free(&page);
    text_free(&presets);
    text_free(&filled);
    return code;
}
