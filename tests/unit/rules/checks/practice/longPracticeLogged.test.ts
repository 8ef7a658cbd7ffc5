import { describe, expect, it } from 'vitest';
import { codes, log, session } from '../../builders/sessions.ts';
import { expectMarked } from '../../marked.ts';

describe('long-practice-logged', () => {
  it('is found above two hours of a day, at the session that passes them, and speaks of hands', async () => {
    const evening = ['crate-vault 30', 'rope-swing 30'];
    const files = log(
      session('2026-10-05T10:00', ...evening),
      session('2026-10-05T15:00', 'lamp-hop 30', 'crate-vault 30'),
    );
    expect(await codes(files)).toEqual([]);
    const [finding] = await expectMarked(
      log(
        session('2026-10-05T10:00', ...evening),
        session('⟦2026-10-05T15:00⟧', 'lamp-hop 30', 'crate-vault 30', 'rope-swing 5'),
      ),
      'long-practice-logged',
    );
    expect(finding?.message).toMatch(/hands and wrists.*see a clinician/);
    expect(finding?.severity).toBe('hint');
  });
});
