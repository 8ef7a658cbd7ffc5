import { expect, test } from 'vitest';
import { needFaults } from '../../../../server/src/model/standing/needFaults.ts';
import { technique } from '../../../helpers/invented.ts';

test('a loop is shown from each technique in it, and only from those', () => {
  const faults = needFaults([
    technique('a', { needs: ['b'] }),
    technique('b', { needs: ['c'] }),
    technique('c', { needs: ['a'] }),
    technique('d', { needs: ['a'] }),
    technique('e', { needs: ['e'] }),
  ]);
  expect(faults.get('a')).toEqual({ kind: 'loop', loop: ['a', 'b', 'c', 'a'] });
  expect(faults.get('c')).toEqual({ kind: 'loop', loop: ['c', 'a', 'b', 'c'] });
  expect(faults.get('e')).toEqual({ kind: 'loop', loop: ['e', 'e'] });
  expect(faults.has('d')).toBe(false);
});

test('an unknown need is named, a known one is no fault', () => {
  const faults = needFaults([technique('a', { needs: ['b', 'nowhere'] }), technique('b')]);
  expect([...faults]).toEqual([['a', { kind: 'unknown', need: 'nowhere' }]]);
});
