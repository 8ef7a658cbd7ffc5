import { describe, expect, it } from 'vitest';
import type { FileSource } from '../../../server/src/workspace/fileSource.ts';
import { Workspace } from '../../../server/src/workspace/workspace.ts';

const folder = 'file:///w';
const lost = `${folder}/lost.week.yaml`;

/** A disk that refuses, like the real one, what is in none of the folders; `meanwhile` happens during each step. */
function disk(meanwhile: { list?: () => void; read?: () => void }): FileSource {
  return {
    list: async () => {
      await Promise.resolve();
      meanwhile.list?.();
      return [lost];
    },
    read: async (uri, within) => {
      await Promise.resolve();
      meanwhile.read?.();
      return within.some((each) => uri.startsWith(`${each}/`))
        ? 'route: none.route.yaml\n'
        : { why: 'outside', detail: uri };
    },
  };
}

describe('folders that are taken away while they are read', () => {
  it.each(['list', 'read'] as const)('leave no file behind, during %s', async (step) => {
    const workspace = new Workspace(disk({ [step]: () => workspace.setFolders([]) }), [folder]);
    await workspace.load();
    expect(workspace.all()).toEqual([]);
  });

  it('are read whole once they are back', async () => {
    let times = 0;
    const workspace = new Workspace(
      disk({
        list: () => {
          if (times++ > 0) return;
          workspace.setFolders([]);
          workspace.setFolders([folder]);
        },
      }),
      [folder],
    );
    await workspace.load();
    await workspace.load();
    expect(workspace.file(lost)?.reading.unread).toBeUndefined();
    expect(workspace.all().map(({ uri }) => uri)).toEqual([lost]);
  });
});
