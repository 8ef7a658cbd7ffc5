import { expect, test } from 'vitest';
import {
  constantNotes,
  defaultConstants,
  resolveConstants,
} from '../../../../server/src/model/core/constants.ts';

test('every constant has a unit, a meaning and a source', () => {
  expect(Object.keys(constantNotes).sort()).toEqual(Object.keys(defaultConstants).sort());
  for (const note of Object.values(constantNotes)) {
    expect(note.unit).not.toBe('');
    expect(note.meaning).not.toBe('');
    expect(note.source).not.toBe('');
  }
});

test('without overrides the defaults stand', () => {
  expect(resolveConstants()).toEqual(defaultConstants);
});

test('an override replaces one constant; 0 is a legal overnight gain', () => {
  const own = resolveConstants({ overnightGain: 0, halfLife: 100 });
  expect(own).toEqual({ ...defaultConstants, overnightGain: 0, halfLife: 100 });
});

test('what cannot be used is ignored or brought into range', () => {
  const own = resolveConstants({ halfLife: NaN, daySaturation: -5, steepness: [1, 2], floors: [0, NaN] });
  expect(own.halfLife).toBe(195);
  expect(own.daySaturation).toBe(1);
  expect(own.steepness).toEqual(defaultConstants.steepness);
  expect(own.floors).toEqual(defaultConstants.floors);
});

test('prior weights sum to one', () => {
  for (const weights of [
    [...defaultConstants.steepnessWeights, defaultConstants.exponentialWeight],
    defaultConstants.ceilingWeights,
    defaultConstants.floorWeights,
  ]) {
    expect(weights.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
  }
});
