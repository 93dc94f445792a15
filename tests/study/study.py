"""study: what the advice is worth, on squads whose truth is known.

Squads of twelve are invented: a log of 26 weeks, some tests with noise, and a
response to training that only this file knows. The program reads the log and
the tests and recommends tapers; what these bring is reckoned here, by direct
simulation of the true response (numpy alone, nothing of the program's). Most
of that an experiment does too (design.csv and noisy.csv beside this file); what
it cannot do is several kinds of test, which is what runs unless --settings says
otherwise, and a truth that another program reckons.

    study.py PROGRAM [--seed N] [--squads N] [--worlds a,b] [--settings a,b]

Worlds, by what fatigue's gain does (growth 0: it adds up; 1: it grows with
recent load as in Busso 2003, Med Sci Sports Exerc 35:1188-1195):
    linear    growth 0, squads about the published shapes
    fast      growth 0, fast recoverers: 30 d, 7 d, ratio 1.4
    growing   growth 1, about Busso's means
    half      growth 1/2
    off       growth 1, off the centre: 40 d, 10 d, memory 4 d, ratio 1.7
    differ    every athlete has a growth of their own, 0 to 1

Columns: regret, 1 - gain reached / gain attainable; harm, share of athletes
whose recommended taper is worse than none; cover, share of 90 % intervals of
its gain that hold the true one; claimed and true gain, in SD of what training
moves; tapers, different ones in a squad.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import argparse
import concurrent.futures
import csv
import datetime
import os
import shutil
import subprocess
import sys
import tempfile

import numpy as np

ATHLETES = 12
LOG = 182                # [d] logged
LEAD = 29                # [d] from the last logged day to the event
WINDOW = 28              # [d] that may be cut
EVENT = LOG - 1 + LEAD   # day of the event
START = datetime.date(2025, 9, 29)  # a Monday
WEEK = np.array([480, 620, 420, 700, 280, 560, 0.0])  # planned [load]
AGES = np.arange(1, WINDOW + 1)
PLANNED = WEEK[(EVENT - AGES) % 7]  # of the day so many days before the event
APART = np.log(1.3)      # least ln tau1 - ln tau2

# world: centre (tau1, tau2, memory [d], ratio), its SD between squads, SD of
# the athletes about it (all of the log), growth (None: each their own)
WORLDS = {
    'linear': ((39, 12, 2.3, 2.1), (.30, .50, 0, .35), (.26, .49, 0, .36), 0),
    'fast': ((30, 7, 2.3, 1.4), (0, 0, 0, 0), (.20, .30, 0, .20), 0),
    'growing': ((31, 14, 2.3, 1.1), (.20, .25, .2, .2), (.22, .3, .3, .22), 1),
    'half': ((36, 13, 2.3, 1.4), (.20, .25, .2, .15), (.22, .3, .3, .2), .5),
    'off': ((40, 10, 4.0, 1.7), (.20, .25, .2, .15), (.22, .3, .3, .2), 1),
    'differ': ((36, 13, 2.3, 1.5), (.20, .25, .2, .2), (.22, .3, .3, .22),
               None),
}

# setting: tests of each athlete (least, most), noise in SD of what training
# moves, kinds of test
SETTINGS = {
    '0': ((0, 0), .5, 1),
    '3-4': ((3, 4), .5, 1),
    '6-10': ((6, 10), .5, 1),
    '12': ((12, 12), .5, 1),
    '5-8 noisy': ((5, 8), 1.5, 1),
    '5-8 noisy x3': ((5, 8), 1.5, 3),
}

# kind of test: name, level, SD that training moves, +1 if higher is better
KINDS = [('Jump height (cm)', 40, 1.6, 1), ('Sprint 30 m (s)', 4.6, .06, -1),
         ('Shuttle run (m)', 1400, 60, 1)]


# ---- truth ----

def decay(tau):
    return np.exp(-1 / tau)


def steady(tau):
    """What steady training of 1 a day leaves the day after its last day."""
    return decay(tau) / (1 - decay(tau))


class Response:
    """Readiness before each day's session, but for level and scale."""

    def __init__(self, shape, growth, load):
        self.tau1, self.tau2, self.memory, self.ratio = shape
        self.growth = growth
        self.before = load[:28].mean()
        self.mean_memory = load.mean() / (1 - decay(self.memory))

    def start(self):
        m = self.before / (1 - decay(self.memory))  # with the day's own load
        return [self.before * steady(self.tau1), self.before *
                steady(self.tau2), self.before * m * steady(self.tau2),
                self.before * steady(self.memory)]

    def step(self, state, load):
        fit, tired, grown, memory = state
        memory = memory + load
        return [(fit + load) * decay(self.tau1),
                (tired + load) * decay(self.tau2),
                (grown + load * memory) * decay(self.tau2),
                memory * decay(self.memory)]

    def reading(self, state):
        fit, tired, grown, _ = state
        return fit - self.ratio * ((1 - self.growth) * tired + self.growth *
                                   grown / self.mean_memory)

    def run(self, load):
        """Readings of every day, and the state before each."""
        state, readings, states = self.start(), [], []
        for x in load:
            readings.append(self.reading(state))
            states.append(state)
            state = self.step(state, x)
        readings.append(self.reading(state))
        states.append(state)
        return np.array(readings), states

    def gains(self, full, cuts):
        """Of each row of cuts (of the day so many days before) at the event."""
        readings, states = self.run(full)
        state = [np.full(len(cuts), s) for s in states[EVENT - WINDOW]]
        for age in range(WINDOW, 0, -1):
            state = self.step(state, full[EVENT - age] *
                              (1 - cuts[:, age - 1]))
        return self.reading(state) - readings[EVENT]


def draw_shapes(rng, centre, sd, count):
    """Log-normal, with tau1 well above tau2."""
    shapes = np.empty((0, 4))
    while len(shapes) < count:
        x = centre + np.asarray(sd) * rng.standard_normal((4 * count, 4))
        shapes = np.vstack([shapes, x[x[:, 0] > x[:, 1] + APART]])
    return shapes[:count]


def draw_log(rng):
    """Four-week blocks, weeks and days that differ, one week of illness."""
    load = np.empty(LOG)
    for week in range(LOG // 7):
        factor = (.8, 1, 1.2, .6)[week % 4] * rng.lognormal(0, .15)
        load[7 * week:7 * week + 7] = WEEK * factor * rng.lognormal(0, .25, 7)
    ill = rng.integers(30, 150)
    load[ill:ill + rng.integers(4, 8)] = 0
    return np.round(load)


# ---- tapers ----

def cuts_of(spec):
    """Cut of the day so many days before the event, as shares; see
    `peakward help taper` for the form."""
    days = []
    if spec != 'none':
        for part in spec.split(','):
            length, cut = part.split('d-')
            length = int(length)
            at = np.arange(length) / max(length - 1, 1)
            if '~' in cut:
                a, b = (float(x) / 100 for x in cut.split('~'))
                days += list(1 - (1 - a) * ((1 - b) / (1 - a)) ** at)
            elif '..' in cut:
                a, b = (float(x) / 100 for x in cut.split('..'))
                days += list(a + (b - a) * at)
            else:
                days += [float(cut) / 100] * length
    cuts = np.zeros(WINDOW)
    days = days[::-1][:WINDOW]
    cuts[:len(days)] = days
    return cuts


def list_tapers():
    """What is attainable: steps, falls and two steps of up to 28 days and
    75 %, and up to three days' rest."""
    specs = ['none'] + [f'{d}d-100' for d in (1, 2, 3)]
    for days in range(1, WINDOW + 1):
        for cut in range(5, 80, 5):
            specs.append(f'{days}d-{cut}')
            if days > 1:
                specs += [f'{days}d-0..{cut}', f'{days}d-0~{cut}']
        for first in range(1, days):
            for a, b in ((25, 50), (25, 75), (50, 75)):
                specs.append(f'{first}d-{a},{days - first}d-{b}')
    return specs


ATTAINABLE = np.array([cuts_of(spec) for spec in list_tapers()])


# ---- a squad ----

def test_days(rng, count):
    edges = np.linspace(7, LOG - 1, count + 1)
    return (edges[:-1] + rng.random(count) * np.diff(edges)).astype(int)


def draw_squad(rng, world, setting):
    """Dicts: log, tests, true gain of any cuts [SD], best of them."""
    centre, between, within, growth = WORLDS[world]
    (least, most), noise, kinds = SETTINGS[setting]
    centre = draw_shapes(rng, np.log(centre), between, 1)[0]
    squad = []
    for shape in draw_shapes(rng, centre, within, ATHLETES):
        load = draw_log(rng)
        g = rng.choice([0, .25, .5, .75, 1]) if growth is None else growth
        full = np.concatenate([load, WEEK[np.arange(LOG, EVENT) % 7]])
        days = test_days(rng, rng.integers(least, most + 1))
        athlete = {'load': load, 'tests': []}
        for k, (name, level, moved, better) in enumerate(KINDS[:kinds]):
            own = shape.copy()  # kinds share time constants, nearly
            if k:
                own[:2] += .10 * rng.standard_normal(2)
                own[3] += .25 * rng.standard_normal()
            response = Response(np.exp(own), g, load)
            readings = response.run(full)[0][:LOG]
            moved = moved * rng.lognormal(0, .3)
            effect = (readings - readings.mean()) / readings.std()
            error = noise * rng.standard_normal(len(days))
            athlete['tests'] += [
                (d, name, level + better * moved * (effect[d] + e), better)
                for d, e in zip(days, error)]
            if k == 0:
                scale = 1 / readings.std()
                athlete['unit'] = moved
                athlete['gains'] = (lambda cuts, r=response, f=full, s=scale:
                                    s * r.gains(f, cuts))
        athlete['best'] = max(0, athlete['gains'](ATTAINABLE).max())
        squad.append(athlete)
    return squad


def day(number):
    return (START + datetime.timedelta(days=int(number))).isoformat()


def write_season(folder, squad):
    with open(f'{folder}/sessions.csv', 'w') as f:
        f.write('date,athlete,load\n')
        for i, a in enumerate(squad):
            for d, x in enumerate(a['load']):
                f.write(f'{day(d)},wing-{i + 1:02d},{x:g}\n')
    if any(a['tests'] for a in squad):
        with open(f'{folder}/tests.csv', 'w') as f:
            f.write('date,athlete,test,value,better\n')
            for i, a in enumerate(squad):
                for d, name, value, better in a['tests']:
                    f.write(f'{day(d)},wing-{i + 1:02d},{name},{value:.6g},'
                            f'{"higher" if better > 0 else "lower"}\n')
    with open(f'{folder}/events.csv', 'w') as f:
        f.write(f'event,start\nRegional cup,{day(EVENT)}\n')
    with open(f'{folder}/week.csv', 'w') as f:
        f.write('weekday,session,load\n')
        for name, x in zip('mon tue wed thu fri sat sun'.split(), WEEK):
            if x > 0:
                f.write(f'{name},Court,{x:g}\n')


def ask(program, squad):
    """Rows (spec, gain, low, high) of what is recommended, by athlete."""
    folder = tempfile.mkdtemp(prefix='peakward-study-')
    try:
        write_season(folder, squad)
        words = [program, 'compare', folder, '--option', 'recommended',
                 '--csv', '--quiet', '--threads', '1']
        if squad[0]['tests']:
            words += ['--test', KINDS[0][0]]
        ran = subprocess.run(words, capture_output=True, text=True)
    finally:
        shutil.rmtree(folder)
    if ran.returncode:
        sys.exit(ran.stderr)
    found = {row['athlete']: (row['spec'] or 'none',
                              *(float(row[c] or 'nan') for c in
                                ('gain', 'gain_low', 'gain_high')))
             for row in csv.DictReader(ran.stdout.splitlines())
             if row['option'] == 'recommended'}
    assert len(found) == len(squad)
    return [found[name] for name in sorted(found)]


def judge(job):
    """Rows: gain reached, attainable, claimed, inside its interval."""
    program, world, setting, seed = job
    squad = draw_squad(np.random.default_rng(seed), world, setting)
    rows, answers = [], ask(program, squad)
    for a, (option, gain, low, high) in zip(squad, answers):
        true = a['gains'](cuts_of(option)[None, :])[0]
        known = bool(a['tests']) and option != 'none'
        unit = a['unit']
        inside = low <= true * unit <= high if known else np.nan
        rows.append((true, a['best'], gain / unit if a['tests'] else np.nan,
                     inside))
    return np.array(rows, float), len({answer[0] for answer in answers})


def report(world, setting, results):
    rows = np.concatenate([r[0] for r in results])
    tapers = np.mean([r[1] for r in results])
    true, best, claimed, inside = rows.T
    cover = np.nanmean(inside) if np.isfinite(inside).any() else np.nan
    said = np.nanmean(claimed) if np.isfinite(claimed).any() else np.nan
    print(f'{world:8s} {setting:13s} {1 - true.sum() / best.sum():6.2f} '
          f'{np.mean(true < -1e-9):5.2f} {cover:6.2f} {said:8.2f} '
          f'{true.mean():5.2f} {best.mean():9.2f} {tapers:7.1f}', flush=True)


def main():
    quick = bool(os.environ.get('PEAKWARD_QUICK'))
    words = argparse.ArgumentParser()
    words.add_argument('program')
    words.add_argument('--seed', type=int, default=20261)
    words.add_argument('--squads', type=int, default=2 if quick else 8)
    words.add_argument('--worlds', default=','.join(WORLDS))
    words.add_argument('--settings', default='5-8 noisy x3',
                       help='of ' + ', '.join(SETTINGS))
    given = words.parse_args()
    print(f'Seed {given.seed}, {given.squads} squads of {ATHLETES} a line; '
          f'gains in SD of what training moves.\n'
          'world    tests         regret  harm  cover  claimed  true  '
          'possible  tapers')
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for setting in given.settings.split(','):
            for world in given.worlds.split(','):
                jobs = [(given.program, world, setting, seed) for seed in
                        np.random.SeedSequence([
                            given.seed, list(WORLDS).index(world),
                            list(SETTINGS).index(setting)])
                        .spawn(given.squads)]
                report(world, setting, list(pool.map(judge, jobs)))


if __name__ == '__main__':
    main()
