import type { HexColor } from 'terra-draw';
import { inkOf, type Theme } from '../../look/ink';

function hex(colour: string): HexColor {
  return colour as HexColor;
}

function handleInk(theme: Theme) {
  const ink = inkOf(theme);
  return {
    closingPointWidth: 6,
    closingPointColor: hex(ink.highlight),
    closingPointOutlineColor: hex(ink.ink),
    closingPointOutlineWidth: 1.6,
    snappingPointWidth: 5,
    snappingPointColor: hex(ink.water),
    snappingPointOutlineColor: hex(ink.paper),
    snappingPointOutlineWidth: 1.6,
    coordinatePointWidth: 3.5,
    coordinatePointColor: hex(ink.paper),
    coordinatePointOutlineColor: hex(ink.ink),
    coordinatePointOutlineWidth: 1.6,
  };
}

/** How the drawing tool paints an area that is being drawn. */
export function polygonInk(theme: Theme) {
  const ink = inkOf(theme);
  return {
    ...handleInk(theme),
    fillColor: hex(ink.highlight),
    fillOpacity: 0.16,
    outlineColor: hex(ink.ink),
    outlineWidth: 1.8,
  };
}

export function lineInk(theme: Theme) {
  return {
    ...handleInk(theme),
    lineStringColor: hex(inkOf(theme).ink),
    lineStringWidth: 2,
  };
}

export function pointInk(theme: Theme) {
  const ink = inkOf(theme);
  return {
    pointWidth: 5,
    pointColor: hex(ink.paper),
    pointOutlineColor: hex(ink.ink),
    pointOutlineWidth: 2,
  };
}

/**
 * The plan draws the selected feature itself; here are only its handles.
 *
 * @param isDense - it has so many corners that full-sized handles would hide it
 */
export function selectInk(theme: Theme, isDense: boolean) {
  const ink = inkOf(theme);
  return {
    selectedPolygonFillOpacity: 0,
    selectedPolygonOutlineColor: hex(ink.ink),
    selectedPolygonOutlineWidth: 1,
    selectedLineStringColor: hex(ink.ink),
    selectedLineStringWidth: 1,
    selectedPointWidth: 9,
    selectedPointOpacity: 0.001,
    selectedPointColor: hex(ink.paper),
    selectedPointOutlineColor: hex(ink.ink),
    selectedPointOutlineWidth: 1.6,
    selectionPointWidth: isDense ? 2.5 : 5,
    selectionPointColor: hex(ink.paper),
    selectionPointOutlineColor: hex(ink.ink),
    selectionPointOutlineWidth: isDense ? 1.2 : 2,
    midPointWidth: 3,
    midPointColor: hex(ink.ink),
    midPointOutlineColor: hex(ink.paper),
    midPointOutlineWidth: 1.4,
  };
}
