import { describe, expect, it } from 'vitest';
import { codes, log, session } from '../../builders/sessions.ts';
import { expectMarked } from '../../marked.ts';

describe('one-technique-session', () => {
  const code = 'one-technique-session';
  const other = session('2026-10-05T19:00', 'lamp-hop 25', 'crate-vault 25');

  it('is found from 40 minutes on, up to the hour from which a day is too long anyway', async () => {
    await expectMarked(log(other, session('⟦2026-10-06T19:00⟧', 'crate-vault 20', 'crate-vault 20')), code);
    expect(await codes(log(other, session('2026-10-06T19:00', 'crate-vault 39')))).toEqual([]);
    expect(await codes(log(other, session('2026-10-06T19:00', 'crate-vault 61')))).toEqual(['long-day']);
  });

  it('is not found where nothing else is being learned, nor long ago', async () => {
    expect(await codes(log(session('2026-10-06T19:00', 'crate-vault 25', 'crate-vault 25')))).toEqual([]);
    const later = session('2026-10-07T19:00', 'lamp-hop 25', 'crate-vault 25');
    const old = log(session('2026-10-06T19:00', 'crate-vault 50'), later);
    expect(await codes(old, { today: '2026-10-20' })).toEqual([code]);
    expect(await codes(old, { today: '2026-10-21' })).toEqual([]);
  });
});
