/**
 * Puts a drawing into a box as it is: it is read as a document of its own first, so that a name on a plan cannot become
 * anything but letters.
 */
export function svgPage(svg: string): (box: HTMLElement) => void {
  return (box) => {
    const drawn = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    box.replaceChildren(document.importNode(drawn, true));
  };
}
