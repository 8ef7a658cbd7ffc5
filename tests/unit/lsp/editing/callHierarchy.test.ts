import type { CallHierarchyItem } from 'vscode-languageserver';
import { describe, expect, it } from 'vitest';
import {
  incomingCallsProvider,
  prepareCallHierarchyProvider,
  outgoingCallsProvider,
} from '../../../../server/src/lsp/editing/callHierarchy.ts';
import { harborRoute, openEditor, textIn } from '../editor.ts';

const chain = harborRoute.replace(
  'loses: 1, was: [box-jump]',
  'loses: 1, needs: [lamp-clip, lamp-hop], was: [box-jump]',
);

async function at(from: string) {
  const editor = await openEditor({ 'a.route.yaml': chain.replace(from.replace('‸', ''), from) });
  const text = editor.text('a.route.yaml');
  const [item] = prepareCallHierarchyProvider(editor.services)(editor.params) ?? [];
  const places = (
    { name }: CallHierarchyItem,
    ranges: { start: { line: number; character: number }; end: { line: number; character: number } }[],
  ) => `${name}: ${ranges.map((range) => textIn(text, range)).join(' ')}`;
  return {
    item,
    written: item && textIn(text, item.selectionRange),
    opens:
      item &&
      incomingCallsProvider(editor.services)({ item })?.map(({ from: other, fromRanges }) =>
        places(other, fromRanges),
      ),
    standsOn:
      item &&
      outgoingCallsProvider(editor.services)({ item })?.map(({ to, fromRanges }) => places(to, fromRanges)),
  };
}

describe('call hierarchy', () => {
  it('says what a technique opens and what it stands on', async () => {
    const middle = await at('use: lamp‸-clip');
    expect(middle.written).toBe('lamp-clip');
    expect(middle.opens).toEqual(['Crate vault: lamp-clip']);
    expect(middle.standsOn).toEqual(['lamp-hop: lamp-hop']);
  });

  it('ends at both ends of the chain', async () => {
    const first = await at('backup: lamp‸-hop');
    expect(first.opens).toEqual(['Crate vault: lamp-hop', 'Lamp clip: lamp-hop']);
    expect(first.standsOn).toEqual([]);
    expect((await at('  crate-‸vault: {')).opens).toEqual([]);
  });

  it('has nothing to say of a segment, or of an item whose technique is gone', async () => {
    expect((await at('id: har‸bor')).item).toBeUndefined();
    const { item } = await at('use: lamp‸-clip');
    const editor = await openEditor({ 'a.route.yaml': 'game: x\n' });
    expect(incomingCallsProvider(editor.services)({ item: item! })).toBeNull();
    expect(outgoingCallsProvider(editor.services)({ item: { ...item!, data: undefined } })).toBeNull();
  });
});
