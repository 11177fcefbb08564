import { searchSites } from '/work/main/lib/siting/search';
import { Survey } from '/work/main/lib/siting/survey';
import { defaultWeights, scoreOf, scoreParts } from '/work/main/lib/siting/score';
import { box, fallingSouth, inputOf, lotWithHouse } from '/work/main/tests/unit/siting/sloping-lot';
for (const [slope, tree] of [[0.02,[9,6]],[0.04,[4,4]],[0.06,[14,10]],[0.10,[9,9]],[0.01,[30,30]]] as const) {
const plan = lotWithHouse(box(0,0,18,24), box(4,14,14,22), {id:'t',properties:{kind:'tree',trunk_diameter_m:.1,canopy_radius_m:1.5},point:tree});
const grid = fallingSouth(-5, 30, 30, 40, 0.5, slope);
const input = inputOf(plan, grid, [{ id: 'r', at: [14.2, 13.8], areaM2: 80 }]);
const t=performance.now();
let calls=0; const cat=input.catchments; const { sites } = await searchSites({...input,catchments:{...cat,catchAt(c:Int32Array){calls++;return cat.catchAt(c);}}});
const t1=performance.now()-t;
const survey = new Survey(input); const all:any[]=[];
const { mesh, columns, rows } = survey.forbidden;
for (let row=0;row<rows;row++) for (let c=0;c<columns;c++){ if(!survey.isAllowed(row*columns+c)) continue;
 const at=[mesh.westM+(c+.5)*mesh.cellM, mesh.northM-(row+.5)*mesh.cellM] as const;
 for (const o of survey.outlines){const f=survey.size(at,o); if(f&&!Array.isArray(f)) all.push(f);} }
const most=Math.max(...all.map(e=>e.scored.capturedM3)); let best=all[0],bs=0; for(const e of all){const s=scoreOf(scoreParts(e.scored,most),defaultWeights); if(s>bs){bs=s;best=e;}}
console.log(slope,calls, t1.toFixed(0)+'ms', all.length, 'brute', bs.toFixed(4), best?.at, best?.outline.form,best?.outline.aspect, best?.areaM2, 'search', sites[0]?.score.toFixed(4), sites[0]?.at, sites[0]?.form, sites[0]?.aspect, sites[0]?.area_m2, 'most', most.toFixed(3), sites[0]?.captured_m3.toFixed(3));
}
