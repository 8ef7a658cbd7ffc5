import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import {
  panelEditorMessageShape,
  panelViewMessageShape,
  storedPanelStateShape,
} from '../../../server/src/protocol/panel/pageMessages.ts';
import { panelVersion } from '../../../server/src/protocol/panel/views.ts';
import {
  numberShape,
  textShape,
  unionOf,
  listOf,
  oneOf,
  orNull,
  record,
} from '../../../server/src/protocol/shape.ts';

describe('what the panel may say', () => {
  const stored = {
    version: panelVersion,
    uri: 'file:///w/a.route.yaml',
    view: 'odds',
    technique: null,
    objective: 'target',
    scroll: 0,
  };

  it.each<[string, unknown]>([
    ['that it is ready', { type: 'ready', stored: null }],
    ['that it is ready, with what it kept', { type: 'ready', stored }],
    ['what it looks at', { type: 'look', view: 'curve', technique: 'lamp-clip', objective: 'time' }],
    ['what to change', { type: 'change', change: 'leave-out', technique: 'lamp-clip' }],
    ['what to swap', { type: 'swap', technique: 'lamp-clip', instead: 'lamp-hop' }],
    ['what to open', { type: 'open', technique: 'lamp-clip' }],
    ['what to practise', { type: 'practise', technique: 'lamp-clip' }],
    ['to copy', { type: 'copy' }],
    ['to be led to the text that cannot be read', { type: 'mend' }],
    ['what to save', { type: 'save', name: 'ranking', drawing: '<svg/>' }],
  ])('is heard: %s', (_, message) => {
    expect(panelViewMessageShape.fits(message)).toBe(true);
  });

  it.each<[string, unknown]>([
    ['nothing', undefined],
    ['a list', []],
    ['a word', 'copy'],
    ['an unknown kind', { type: 'run', command: 'x' }],
    ['an unknown view', { type: 'look', view: 'deck', technique: null, objective: 'time' }],
    ['an objective that is no text', { type: 'look', view: 'ranking', technique: null, objective: 7 }],
    ['an unknown change', { type: 'change', change: 'delete', technique: 'lamp-clip' }],
    ['a swap for nothing', { type: 'swap', technique: 'lamp-clip' }],
    ['a technique that is no text', { type: 'open', technique: { toString: 'x' } }],
    ['practice of nothing', { type: 'practise' }],
    ['a drawing without end', { type: 'save', name: 'x', drawing: 'x'.repeat(4_000_001) }],
    ['keys from elsewhere', Object.create({ type: 'copy' })],
    ['another version', { type: 'ready', stored: { ...stored, version: panelVersion + 1 } }],
  ])('is not heard: %s', (_, message) => {
    expect(panelViewMessageShape.fits(message)).toBe(false);
  });

  it('never throws, whatever comes', () => {
    fc.assert(
      fc.property(fc.anything(), (value) => {
        for (const shape of [panelViewMessageShape, panelEditorMessageShape, storedPanelStateShape])
          expect(shape.fits(value)).toBeTypeOf('boolean');
      }),
    );
  });
});

describe('shapes', () => {
  it('hold numbers that can be drawn only', () => {
    for (const value of [NaN, Infinity, '1', null]) expect(numberShape.fits(value)).toBe(false);
    expect(numberShape.fits(-0.5)).toBe(true);
  });

  it('go down into lists, records and choices', () => {
    const shape = record({
      names: listOf(textShape),
      size: orNull(numberShape),
      kind: unionOf(oneOf('a'), oneOf(1)),
    });
    expect(shape.fits({ names: ['x'], size: null, kind: 1, more: true })).toBe(true);
    expect(shape.fits({ names: ['x', 1], size: null, kind: 1 })).toBe(false);
    expect(shape.fits({ names: [], kind: 'a' })).toBe(false);
    expect(shape.fits({ names: [], size: 1, kind: 'b' })).toBe(false);
  });
});
