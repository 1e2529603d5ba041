/** An element with its properties and children; text is never read as markup. */
export function element<K extends keyof HTMLElementTagNameMap>(
  name: K,
  attributes: Readonly<Record<string, string>> = {},
  ...children: readonly (Node | string)[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

/** A button that says what it does. */
export function button(
  text: string,
  act: () => void,
  attributes: Readonly<Record<string, string>> = {},
): HTMLButtonElement {
  const made = element('button', { type: 'button', ...attributes }, text);
  made.addEventListener('click', act);
  return made;
}

/** Choices of which one holds; the arrow keys walk through them. */
export function choice<T extends string>(
  name: string,
  legend: string,
  options: readonly (readonly [T, string])[],
  first: T,
  choose: (value: T) => void,
): HTMLFieldSetElement {
  const all = options.map(([value, text]) => {
    const input = element('input', { type: 'radio', name, value });
    input.checked = value === first;
    input.addEventListener('change', () => choose(value));
    return element('label', {}, input, element('span', {}, text));
  });
  return element('fieldset', { class: 'choice' }, element('legend', {}, legend), ...all);
}

export function check(
  text: string,
  change: (on: boolean) => void,
): { label: HTMLLabelElement; input: HTMLInputElement } {
  const input = element('input', { type: 'checkbox' });
  input.addEventListener('change', () => change(input.checked));
  return { label: element('label', { class: 'check' }, input, element('span', {}, text)), input };
}
