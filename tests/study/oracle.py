"""oracle: the least that can be lost, in the study's linear worlds.

Who knows how shapes are spread in a world, how much tests are moved and how
noisy they are can do no better than the taper with the largest expected gain
after an athlete's tests (Bayes' rule; here by weighing draws from the world).
What that loses is what tests of this number and noise cannot tell; only what the
program loses beyond it can be mended.

    oracle.py [--seed N] [--squads N] [--settings a,b]

SPDX-License-Identifier: GPL-3.0-or-later
"""
import argparse

import numpy as np

import study

DRAWS = 1500
SCALES = np.linspace(-2.5, 2.5, 11)  # [SD] of ln moved


def effects(shapes, load):
    """What the log does to readiness, a row a day, a column a shape, in SDs of
    the log; and what a load left out then gives, a row for each age in days."""
    tau1, tau2, _, ratio = shapes.T
    keep1, keep2 = study.decay(tau1), study.decay(tau2)
    fit = load[:28].mean() * study.steady(tau1)
    tired = load[:28].mean() * study.steady(tau2)
    rows = []
    for x in load:
        rows.append(fit - ratio * tired)
        fit, tired = (fit + x) * keep1, (tired + x) * keep2
    rows = np.array(rows)
    sd, ages = rows.std(0), study.AGES[:, None]
    return ((rows - rows.mean(0)) / sd,
            (ratio * keep2 ** ages - keep1 ** ages) / sd)


def weigh(effect, tests, noise):
    """Posterior weights of the shapes: the level is flat, what training moves
    is log-normal about the study's."""
    days, values = (np.array([t[i] for t in tests]) for i in (0, 2))
    at = effect[days] - effect[days].mean(0)
    away = (values - values.mean())[:, None]
    logs = []
    for scale in SCALES:
        moved = study.KINDS[0][2] * np.exp(.3 * scale)
        logs.append(-.5 * scale ** 2 - (len(days) - 1) * np.log(moved) - .5 *
                    ((away - moved * at) ** 2).sum(0) / (noise * moved) ** 2)
    weight = np.exp(np.array(logs) - np.max(logs)).sum(0)
    return weight / weight.sum()


def best_of(rng, world, noise, athlete):
    """True gain of the best decision, most that is attainable, gain expected."""
    centre, between, within, _ = study.WORLDS[world]
    shapes = np.exp(study.draw_shapes(rng, np.log(centre),
                                      np.hypot(between, within), DRAWS))
    effect, freed = effects(shapes, athlete['load'])
    expected = study.ATTAINABLE @ (
        freed @ weigh(effect, athlete['tests'], noise) * study.PLANNED)
    cuts = study.ATTAINABLE[[expected.argmax()]]
    return athlete['gains'](cuts)[0], athlete['best'], expected.max()


def main():
    words = argparse.ArgumentParser()
    words.add_argument('--seed', type=int, default=20261)
    words.add_argument('--squads', type=int, default=40)
    words.add_argument('--settings', default='3-4,6-10,12,5-8 noisy')
    given = words.parse_args()
    print(f'Seed {given.seed}, {given.squads} squads a line\n'
          'world    tests         regret  harm  claimed   true  possible')
    for world in ('linear', 'fast'):
        for setting in given.settings.split(','):
            rng = np.random.default_rng(given.seed)
            rows = np.array([
                best_of(rng, world, study.SETTINGS[setting][1], athlete)
                for _ in range(given.squads)
                for athlete in study.draw_squad(rng, world, setting)])
            true, possible, claimed = rows.T
            print(f'{world:8s} {setting:13s} '
                  f'{1 - true.sum() / possible.sum():6.2f} '
                  f'{np.mean(true < -1e-9):5.2f} {claimed.mean():8.2f} '
                  f'{true.mean():6.2f} {possible.mean():9.2f}', flush=True)


if __name__ == '__main__':
    main()
