# peakward: settings, then the floors, then what can be made.
#
# make            the program, build/peakward, and its manual pages
# make demo       installs what is missing, builds, runs the demo season
# make check      installs what is missing, runs the tests (some 2 min)
# make check-all  everything: sanitizers, valgrind, faults, browser, package ...
# make bench      how fast it is, beside plain loops, libcsv, SciPy, R and JAGS
# make test T=suite.test   one test, or a whole suite with T=suite
#
# V=1 shows whole commands. CC, CFLAGS, CPPFLAGS, LDFLAGS are the user's.
#
# SPDX-License-Identifier: GPL-3.0-or-later

# ---- settings ----

CC         ?= cc
CFLAGS     ?= -O2 -g
PKG_CONFIG ?= pkg-config
PREFIX      = /usr/local
DESTDIR     =
BUILD       = build
OUT         = $(BUILD)/demo
VERSION     = 0.1
WARNINGS    = -Wall -Wextra -Wconversion -Wshadow -Wpedantic
STANDARD    = -std=c11 -D_XOPEN_SOURCE=700

# Libraries that pkg-config knows, and those that bring no .pc file.
MODULES    = gsl libzip expat nettle
LIBRARIES  = -lcsv -lglpk -lunistring -lm -pthread

# Debian packages, in one place: for the program; for `make check`; for
# `make check-all`.
PACKAGES      = gcc libc6-dev make pkg-config libgsl-dev libcsv-dev libglpk-dev \
                libzip-dev libexpat1-dev libunistring-dev nettle-dev \
                gnuplot-nox fonts-dejavu-core
TEST_PACKAGES = libcunit1-dev clang-format git python3-scipy python3-icalendar \
                python3-openpyxl locales \
                r-base-core jags
ALL_PACKAGES  = valgrind parallel groff-base lintian man-db dpkg-dev \
                chromium tidy poppler-utils

# ---- floors, lowest first (src/FLOORS says who may include whom) ----

FLOORS  = base season response calibrate taper cases answers present output lessons options commands
SOURCES = $(foreach floor,$(FLOORS),$(sort $(wildcard src/$(floor)/*.c)))
OBJECTS = $(SOURCES:src/%.c=$(BUILD)/%.o)
MAIN    = $(BUILD)/main.o
TESTS   = $(sort $(wildcard tests/*.c tests/program/*.c \
          $(FLOORS:%=tests/%/*.c)))
FUZZ    = table workbook words model files season calendar page program
TEST_OBJECTS = $(TESTS:tests/%.c=$(BUILD)/tests/%.o)

# What pkg-config says, asked once.
MODULE_FLAGS = $(eval MODULE_FLAGS := $$(shell $$(PKG_CONFIG) --cflags \
                   $$(MODULES)))$(MODULE_FLAGS)
LIBS = $(eval LIBS := $$(shell $$(PKG_CONFIG) --libs $$(MODULES)) \
           $$(LIBRARIES))$(LIBS)

FLAGS = $(STANDARD) $(WARNINGS) $(CPPFLAGS) $(CFLAGS) $(MODULE_FLAGS) -Isrc \
        -MMD -MP -DVERSION='"$(VERSION)"' \
        -DSHARE_DIR='"$(PREFIX)/share/peakward"'

# One short line a file, and with V=1 the whole command.
Q   = $(if $(filter 1,$(V)),,@)
say = $(if $(Q),@printf '  %-5s %s\n' $(1) $(2))

# As many jobs as processors unless -j says otherwise.
SUBMAKE = --no-print-directory $(if $(filter -j%,$(MAKEFLAGS)),,-j$(JOBS))
JOBS    = $(shell getconf _NPROCESSORS_ONLN)

# ---- targets ----

.PHONY: all demo check check-all test install uninstall clean format \
        format-check packages test-packages all-packages tests sanitized study \
        bench bench-fit bench-speed bench-experiment bench-whole demo-data \
        example-pictures check-page deb check-deb fuzz fuzz-replay objects shims faults coverage \
        mutants analyse evidence

all: $(BUILD)/peakward $(BUILD)/share/made

$(BUILD)/peakward: $(MAIN) $(OBJECTS)
	$(call say,LINK,$@)
	$(Q)$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

$(BUILD)/tests/%.o: tests/%.c
	$(call say,CC,$<)
	@mkdir -p $(@D)
	$(Q)$(CC) $(FLAGS) -Itests -c -o $@ $<

# What a posterior's time goes to: -O2 leaves most of its loops as they are.
$(patsubst %,$(BUILD)/calibrate/%.o,draws marginal posterior rounds traces \
                                    trail): CFLAGS += -O3

$(BUILD)/%.o: src/%.c
	$(call say,CC,$<)
	@mkdir -p $(@D)
	$(Q)$(CC) $(FLAGS) -c -o $@ $<

$(BUILD)/run_tests: $(TEST_OBJECTS) $(OBJECTS)
	$(call say,LINK,$@)
	$(Q)$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ -lcunit $(LIBS)

# Manual pages and completion are made by the program itself.
$(BUILD)/share/made: $(BUILD)/peakward src/packaging/manual.sh $(wildcard data/help/*.md)
	$(call say,MAN,$(@D))
	$(Q)src/packaging/manual.sh $(BUILD)/peakward $(@D)
	@touch $@

-include $(OBJECTS:.o=.d) $(MAIN:.o=.d) $(TEST_OBJECTS:.o=.d)

packages:
	@tests/install_packages.sh $(PACKAGES)

test-packages:
	@tests/install_packages.sh $(PACKAGES) $(TEST_PACKAGES)

all-packages:
	@tests/install_packages.sh $(PACKAGES) $(TEST_PACKAGES) $(ALL_PACKAGES)

demo: packages
	@echo "Building $(BUILD)/peakward ..."
	@$(MAKE) $(SUBMAKE) all >/dev/null
	@tests/demo.sh $(BUILD)/peakward $(OUT)

# Floors, layout and all suites in their quick form.
check: test-packages
	@$(MAKE) $(SUBMAKE) tests
	@tests/check.sh $(BUILD)

check-all: all-packages
	@$(MAKE) $(SUBMAKE) all tests sanitized shims
	@tests/check_all.sh $(BUILD)

tests: $(BUILD)/run_tests $(BUILD)/peakward

# The same program and tests under address and undefined-behaviour sanitizers.
sanitized:
	@$(MAKE) $(SUBMAKE) tests BUILD=$(BUILD)/sanitized \
	    CFLAGS="-O1 -g -fno-omit-frame-pointer -fsanitize=address,undefined \
	            -fno-sanitize-recover=all"

test: tests
	@PEAKWARD=$(BUILD)/peakward $(BUILD)/run_tests $(T)

# Which lines and branches of src/ the tests go through (gcov; some 4 min); what
# was never run with COVERAGE=--detail.
COVERAGE_LINES    = 95
COVERAGE_BRANCHES = 89
COVERAGE =

coverage: test-packages
	@$(MAKE) $(SUBMAKE) tests BUILD=$(BUILD)/coverage \
	    CFLAGS="-O0 -g --coverage"
	@/usr/bin/python3 tests/coverage.py $(BUILD)/coverage $(COVERAGE_LINES) \
	    $(COVERAGE_BRANCHES) $(COVERAGE)

# Writes the table of outside checks in DEVELOPERS.md anew.
evidence: tests
	@rm -f $(BUILD)/evidence.tsv
	@for suite in response calibrate taper answers_experiment program.reviewed; do \
	    PEAKWARD=$(BUILD)/peakward PEAKWARD_EVIDENCE=$(BUILD)/evidence.tsv \
	    $(BUILD)/run_tests $$suite || exit 1; \
	done
	@/usr/bin/python3 tests/evidence.py $(BUILD)/evidence.tsv DEVELOPERS.md --write

# Does a test notice each of some 200 slips in the source (some 15 min)?
# MUTANTS=date: those of one file. MUTANTS="--random=60 --seed=7": slips drawn over
# all of src/; `make coverage` before it learns which tests run which line.
mutants: export FLAGS := $(FLAGS)
mutants: export LIBS := $(LIBS)
mutants: tests
	@/usr/bin/python3 tests/mutants.py $(BUILD) $(MUTANTS)

# What gcc -fanalyzer, clang-tidy and cppcheck say, less tests/analyse.known.
analyse:
	@tests/install_packages.sh clang-tidy cppcheck $(PACKAGES)
	@/usr/bin/python3 tests/analyse.py

# What the advice is worth where the truth is known, in six worlds: experiments
# by the designs in tests/study, then what an experiment cannot do, three kinds
# of test of which a program of its own knows the truth, and what the best
# decision loses that knows how worlds are drawn (some 14 min).
# STUDY_ATHLETES=240, and STUDY="--seed 7 --squads 20" for others.
STUDY          =
STUDY_ATHLETES = 96

study: $(BUILD)/peakward
	@for design in design noisy; do $(BUILD)/peakward experiment \
	    tests/study/$$design.csv --athletes $(STUDY_ATHLETES); done
	@/usr/bin/python3 tests/study/study.py $(BUILD)/peakward $(STUDY)
	@/usr/bin/python3 tests/study/oracle.py

# Each fuzz target for FUZZ_TIME seconds (clang's libFuzzer).
FUZZ_TIME = 60
FUZZ_FLAGS = $(STANDARD) $(CPPFLAGS) $(MODULE_FLAGS) -g -O1 -Isrc -Itests/fuzz \
             -DVERSION='"$(VERSION)"'
FUZZ_ASAN  = address,undefined -fno-sanitize-recover=all
FUZZ_LINK  = $$(test $$target != program || echo -Wl,--wrap=plot_draw)

objects: $(OBJECTS)

fuzz:
	@tests/install_packages.sh clang libclang-rt-14-dev $(PACKAGES)
	@$(MAKE) $(SUBMAKE) objects BUILD=$(BUILD)/fuzz CC=clang \
	    CFLAGS="-g -O1 -fsanitize=fuzzer-no-link,$(FUZZ_ASAN)"
	@for target in $(FUZZ); do \
	    clang $(FUZZ_FLAGS) -fsanitize=fuzzer,$(FUZZ_ASAN) \
	        -o $(BUILD)/fuzz/fuzz-$$target tests/fuzz/$$target.c $(FUZZ_LINK) \
	        $(OBJECTS:$(BUILD)/%=$(BUILD)/fuzz/%) $(LIBS) && \
	    tests/fuzz/run.sh $(BUILD)/fuzz $$target $(FUZZ_TIME) || exit 1; \
	done

# Seeds and inputs that once failed, under gcc's sanitizers.
fuzz-replay: sanitized
	@mkdir -p $(BUILD)/fuzz
	@for target in $(FUZZ); do \
	    $(CC) $(FUZZ_FLAGS) -fsanitize=$(FUZZ_ASAN) \
	        -o $(BUILD)/fuzz/replay-$$target \
	        tests/fuzz/$$target.c tests/fuzz/replay.c $(FUZZ_LINK) \
	        $(OBJECTS:$(BUILD)/%=$(BUILD)/sanitized/%) $(LIBS) && \
	    printf '%s: ' $$target && \
	    $(BUILD)/fuzz/replay-$$target \
	        $$(find tests/fuzz/seeds/$$target tests/fuzz/found/$$target \
	            -type f 2>/dev/null | sort) || exit 1; \
	done

# What stands in for the system's calls, to make them fail.
SHIMS = $(patsubst tests/%.c,$(BUILD)/tests/%.so,$(wildcard tests/faults/*.c))

shims: $(SHIMS)

$(BUILD)/tests/faults/%.so: tests/faults/%.c
	@mkdir -p $(@D)
	$(CC) $(FLAGS) -shared -fPIC -o $@ $< -ldl

# Every allocation, write and read that can fail, one run each (some hours;
# FAULTS=--places: once at each place of the program, some minutes). `make check`
# tries a sample of these.
FAULTS = --all

faults: all shims
	@/usr/bin/python3 tests/faults/run.py $(BUILD) $(FAULTS)

# Speed, beside plain loops, libcsv, SciPy, R and JAGS on the same data.
# The references of bench-fit take one processor for a minute: beside experiments,
# of which only processor time counts too.
bench: all bench-speed
	@$(MAKE) --no-print-directory -j2 -O bench-fit bench-experiment
	@$(MAKE) --no-print-directory bench-whole

bench-speed: test-packages
	@$(MAKE) --no-print-directory $(BUILD)/bench/speed
	@PYTHONDONTWRITEBYTECODE=1 /usr/bin/python3 tests/bench/league.py $(BUILD)/bench/season 100
	@PYTHONDONTWRITEBYTECODE=1 /usr/bin/python3 tests/bench/speed.py $(BUILD)/bench/speed \
	    $(BUILD)/bench/season $(BUILD)/bench/speed.svg

# Whole commands on squads and leagues: time and memory, beside what is aimed at.
bench-whole: all
	@tests/bench/whole.sh $(BUILD)/peakward $(BUILD)/bench

# Virtual athletes: fails where a hundred thousand take too long.
bench-experiment: all
	@tests/bench/experiment.sh $(BUILD)/peakward

bench-fit: test-packages
	@$(MAKE) --no-print-directory $(BUILD)/bench/fit
	@PYTHONDONTWRITEBYTECODE=1 /usr/bin/python3 tests/bench/fit.py $(BUILD)/bench/fit \
	    $(BUILD)/bench/fit.svg

$(BUILD)/bench/%: tests/bench/%.c $(OBJECTS)
	$(call say,LINK,$@)
	@mkdir -p $(@D)
	$(Q)$(CC) $(FLAGS) -o $@ $< $(OBJECTS) $(LIBS)

# The page of `report` in a browser.
check-page: all-packages
	@$(MAKE) $(SUBMAKE) all
	@tests/page.sh $(BUILD)/peakward $(BUILD)/page

demo-data:
	/usr/bin/python3 data/make_demo.py
	/usr/bin/python3 data/make_lessons.py

# The pictures that README shows, after a change of plots/.
example-pictures: all
	plots/examples.sh $(BUILD)/peakward

format:
	clang-format -i src/*.c src/*/*.[ch] tests/*.[ch] tests/*/*.[ch]

format-check:
	@clang-format --dry-run --Werror src/*.c src/*/*.[ch] tests/*.[ch] tests/*/*.[ch]

SHARE    = $(DESTDIR)$(PREFIX)/share
MAN      = $(SHARE)/man/man
COMPLETE = $(SHARE)/bash-completion/completions
SECTIONS = 1 5 7

install: all
	install -d $(DESTDIR)$(PREFIX)/bin $(COMPLETE)
	install -m 755 $(BUILD)/peakward $(DESTDIR)$(PREFIX)/bin
	for folder in models plots data/help data/demo data/first-hour data/lessons \
	        data/lessons/five-tests; do \
	    install -d $(SHARE)/peakward/$$folder || exit 1; \
	    for file in $$folder/*.csv $$folder/*.gp $$folder/*.md \
	            $$folder/*.html; do \
	        [ ! -f $$file ] || \
	        install -m 644 $$file $(SHARE)/peakward/$$folder || exit 1; \
	    done; \
	done
	for section in $(SECTIONS); do \
	    for page in $(BUILD)/share/man/*.$$section; do \
	        [ ! -f $$page ] || \
	        install -D -m 644 -t $(MAN)$$section $$page || exit 1; \
	    done; \
	done
	install -m 644 $(BUILD)/share/completion $(COMPLETE)/peakward

# A Debian package, build/peakward_VERSION_ARCH.deb.
deb: all
	@src/packaging/deb.sh $(BUILD) $(VERSION)

# As root: lintian, installing, the demo, removing. Not part of check.
check-deb: all-packages deb
	@tests/deb.sh $(BUILD)/peakward_$(VERSION)_$$(dpkg --print-architecture).deb

uninstall:
	rm -f $(DESTDIR)$(PREFIX)/bin/peakward
	rm -f $(COMPLETE)/peakward
	rm -f $(SECTIONS:%=$(MAN)%/peakward.*) $(SECTIONS:%=$(MAN)%/peakward-*)
	rm -rf $(SHARE)/peakward

clean:
	rm -rf $(BUILD)
