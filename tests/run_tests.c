/* run_tests: runs all suites, one suite, one test (`suite.test`) or the tests
 * of one file (as suites.def names it); `--list` names the files.
 *
 * Exit code 0 only if at least one test ran and none failed; an unknown name
 * fails.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/mem.h"

#include <CUnit/Basic.h>
#include <gsl/gsl_errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct {
    const char *file;
    const TestSuite *suite;
} files[] = {
#define SUITE(name) {#name, &suite_##name},
#include "suites.def"
#undef SUITE
};

enum { FILES = sizeof files / sizeof files[0] };

/* Does `wanted` ("", "suite" or "suite.test") name this test? */
static bool is_wanted(const char *wanted, const char *suite, const char *test) {
    size_t length = strlen(suite);
    if (!*wanted)
        return true;
    if (strncmp(wanted, suite, length) != 0)
        return false;
    return wanted[length] == '\0' ||
           (wanted[length] == '.' && strcmp(wanted + length + 1, test) == 0);
}

static size_t add_suite(const TestSuite *suite, const char *wanted) {
    CU_pSuite into = CU_get_suite(suite->name);
    size_t added = 0;
    for (const TestCase *test = suite->cases; test->name; test++) {
        if (!is_wanted(wanted, suite->name, test->name))
            continue;
        if (!into)
            into = CU_add_suite_with_setup_and_teardown(
                suite->name, NULL, NULL, NULL, test_evidence_done);
        if (!into || !CU_add_test(into, test->name, test->run)) {
            fprintf(stderr, "run_tests: cannot add %s.%s: %s\n", suite->name,
                    test->name, CU_get_error_msg());
            exit(1);
        }
        added++;
    }
    return added;
}

static size_t add_files(const char *wanted) {
    size_t added = 0;
    for (size_t i = 0; i < FILES; i++) {
        bool whole = strcmp(wanted, files[i].file) == 0;
        added += add_suite(files[i].suite, whole ? "" : wanted);
    }
    return added;
}

static int list_files(void) {
    for (size_t i = 0; i < FILES; i++)
        puts(files[i].file);
    return 0;
}

int main(int count, char **words) {
    const char *wanted = count > 1 ? words[1] : "";
    size_t added;
    unsigned failed, ran;
    CU_ErrorCode code;
    struct sigaction ignore = {.sa_handler = SIG_IGN};
    if (strcmp(wanted, "--list") == 0)
        return list_files();
    sigaction(SIGPIPE, &ignore, NULL);
    gsl_set_error_handler_off();
    if (CU_initialize_registry() != CUE_SUCCESS)
        return 1;
    added = add_files(wanted);
    if (added == 0) {
        fprintf(stderr, "run_tests: no test is named '%s'\n", wanted);
        CU_cleanup_registry();
        return 1;
    }
    CU_basic_set_mode(CU_BRM_VERBOSE);
    code = CU_basic_run_tests();
    failed =
        CU_get_number_of_failure_records() + CU_get_number_of_suites_failed();
    ran = CU_get_number_of_tests_run();
    CU_cleanup_registry();
    return code == CUE_SUCCESS && failed == 0 && ran == added ? 0 : 1;
}
