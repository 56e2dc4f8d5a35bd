import type {
  Content,
  ContentColumns,
  ContentStack,
  ContentTable,
  CustomTableLayout,
  Style,
  TableCell,
} from 'pdfmake/interfaces.js';

const has = (content: Content, key: string) =>
  typeof content === 'object' && !Array.isArray(content) && key in content;
const isStack = (content: Content): content is ContentStack => has(content, 'stack');
const isColumns = (content: Content): content is ContentColumns => has(content, 'columns');
const isTable = (content: Content): content is ContentTable => has(content, 'table');

/** The layout of one of our tables. The press has layouts of its own by name, which no paper of ours uses. */
function ruling({ layout }: ContentTable): CustomTableLayout | undefined {
  return typeof layout === 'object' ? layout : undefined;
}

/** How many rows the tables of a document have, headings included: as often as `watched` tells of one. */
export function rowsOf(content: Content): number {
  const sum = (all: readonly Content[]) => all.reduce<number>((rows, one) => rows + rowsOf(one), 0);
  if (Array.isArray(content)) return sum(content);
  if (isStack(content)) return sum(content.stack);
  if (isColumns(content)) return sum(content.columns);
  return isTable(content) && ruling(content) ? content.table.body.length : 0;
}

/** How many texts a document has, in tables or outside of them: as often as `watchedStyle` tells of one. */
export function textsOf(content: Content | TableCell): number {
  const sum = (all: readonly (Content | TableCell)[]) =>
    all.reduce<number>((texts, one) => texts + textsOf(one), 0);
  if (Array.isArray(content)) return sum(content);
  if (typeof content !== 'object') return 1;
  if ('stack' in content) return sum(content.stack);
  if ('columns' in content) return sum(content.columns as Content[]);
  if ('table' in content) return sum(content.table.body.flat());
  return 'text' in content ? 1 : 0;
}

/**
 * The same style, which tells of every text as the press measures it: the press asks it once for each, by how much its
 * first line is set in.
 */
export function watchedStyle(style: Style | undefined, onText: () => void): Style {
  return {
    ...style,
    get leadingIndent() {
      onText();
      return 0;
    },
  };
}

/**
 * The same content, which tells of every row of its tables as the press places it. The press asks a table's layout for
 * the space above a row once, when it begins to place it; that is the only sign it gives.
 */
export function watched(content: Content, onRow: () => void): Content {
  if (Array.isArray(content)) return content.map((one) => watched(one, onRow));
  if (isStack(content)) return { ...content, stack: content.stack.map((one) => watched(one, onRow)) };
  if (isColumns(content)) return { ...content, columns: content.columns.map((one) => watched(one, onRow)) };
  const own = isTable(content) ? ruling(content) : undefined;
  if (!isTable(content) || !own) return content;
  const layout: CustomTableLayout = {
    ...own,
    paddingTop(row, node) {
      onRow();
      return own.paddingTop?.(row, node) ?? 0;
    },
  };
  return { ...content, layout };
}
