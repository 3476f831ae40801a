// The lofted back with its change map: turn it, cut it, read the millimetres. Loaded only where a back is shown.
import {
  BufferAttribute,
  BufferGeometry,
  DirectionalLight,
  DoubleSide,
  HemisphereLight,
  Line,
  LineBasicMaterial,
  Mesh,
  MeshLambertMaterial,
  PerspectiveCamera,
  Plane,
  Scene,
  Vector3,
  WebGLRenderer,
} from 'three';
import { OrbitControls } from 'three/examples/jsm/controls/OrbitControls.js';

interface Back {
  /** x, y, z in millimetres, vertex after vertex: x to the horse's right, y up, z towards the tail. */
  vertices: number[];
  triangles: number[];
  /** Millimetres towards more horse, one a vertex; null where one of the two was not traced. */
  changes: (number | null)[] | null;
  /** Half the span of the colours, mm. */
  span: number;
  from: number;
  to: number;
  stations: { name: string; at: number; line: [number, number, number][] }[];
}

// Blue through paper to orange: the ends are the Okabe–Ito blue and vermillion, told apart by readers with any colour vision.
const LESS = [0xd5, 0x5e, 0x00],
  NONE = [0xe9, 0xe4, 0xd8],
  MORE = [0x00, 0x72, 0xb2],
  UNKNOWN = [0x9a, 0x94, 0x8a];

export function colour(change: number | null, span: number): [number, number, number] {
  if (change === null) return UNKNOWN.map(linear) as [number, number, number];
  const t = Math.max(-1, Math.min(1, change / span));
  const end = t < 0 ? LESS : MORE;
  return NONE.map((v, i) => linear(v + (end[i]! - v) * Math.abs(t))) as [number, number, number];
}

const linear = (v: number) => ((v / 255 + 0.055) / 1.055) ** 2.4;

async function start(): Promise<void> {
  const host = document.getElementById('back');
  if (!host) return;
  const canvas = host.querySelector('canvas')!;
  const still = host.querySelector<HTMLElement>('[data-still]');
  let renderer: WebGLRenderer;
  try {
    renderer = new WebGLRenderer({ canvas, antialias: true });
  } catch {
    return; // The still picture stays.
  }
  const answer = await fetch(host.dataset.url!);
  if (!answer.ok) return;
  const back = (await answer.json()) as Back;
  still?.setAttribute('hidden', '');
  host.querySelector<HTMLElement>('[data-live]')!.hidden = false;

  renderer.localClippingEnabled = true;
  const css = getComputedStyle(document.documentElement);
  const scene = new Scene();
  scene.add(new HemisphereLight(0xffffff, 0x887766, 2.2));
  const sun = new DirectionalLight(0xffffff, 1.6);
  sun.position.set(-300, 600, -400);
  scene.add(sun);

  const cut = new Plane(new Vector3(0, 0, 1), 0);
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(new Float32Array(back.vertices), 3));
  const colours = new Float32Array(back.vertices.length);
  for (let i = 0; i < back.vertices.length / 3; i++)
    colours.set(back.changes ? colour(back.changes[i]!, back.span) : NONE.map(linear), 3 * i);
  geometry.setAttribute('color', new BufferAttribute(colours, 3));
  geometry.setIndex(back.triangles);
  geometry.computeVertexNormals();
  scene.add(new Mesh(geometry, new MeshLambertMaterial({ vertexColors: true, side: DoubleSide, clippingPlanes: [cut] })));
  for (const station of back.stations) {
    const line = new Line(
      new BufferGeometry().setFromPoints(station.line.map(p => new Vector3(...p))),
      new LineBasicMaterial({ color: 0x231c15, clippingPlanes: [cut] }),
    );
    scene.add(line);
  }

  geometry.computeBoundingSphere();
  const ball = geometry.boundingSphere!;
  const camera = new PerspectiveCamera(32, 1, 10, 6000);
  camera.position.set(ball.center.x - 520, ball.center.y + 640, ball.center.z + 900);
  const controls = new OrbitControls(camera, canvas);
  controls.target.copy(ball.center);
  controls.enableDamping = !matchMedia('(prefers-reduced-motion: reduce)').matches;
  controls.minDistance = 300;
  controls.maxDistance = 3000;
  canvas.tabIndex = 0;
  controls.listenToKeyEvents(canvas);

  const slider = host.querySelector<HTMLInputElement>('input[type=range]')!;
  const readout = host.querySelector<HTMLOutputElement>('output')!;
  [slider.min, slider.max, slider.value] = [String(back.from), String(back.to), String(back.from)];
  const place = () => {
    const at = Number(slider.value);
    cut.constant = -at;
    const near = back.stations.reduce((a, b) => (Math.abs(b.at - at) < Math.abs(a.at - at) ? b : a));
    const scale = Number(host.dataset.scale);
    const far = scale === 1 ? `${Math.round(at)} ${host.dataset.sign}` : `${(at * scale).toFixed(1)}${host.dataset.sign}`;
    readout.textContent = at <= back.from ? 'whole back' : `cut ${far} behind the first station, nearest: ${near.name}`;
    paint();
  };
  slider.addEventListener('input', place);

  const size = () => {
    const [w, h] = [canvas.clientWidth, canvas.clientHeight];
    renderer.setPixelRatio(Math.min(2, devicePixelRatio));
    renderer.setSize(w, h, false);
    camera.aspect = w / h;
    camera.updateProjectionMatrix();
    paint();
  };
  let due = false;
  function paint(): void {
    if (due) return;
    due = true;
    requestAnimationFrame(() => {
      due = false;
      const moving = controls.update();
      renderer.setClearColor(css.getPropertyValue('--sheet').trim() || '#fff');
      renderer.render(scene, camera);
      if (moving) paint();
    });
  }
  controls.addEventListener('change', paint);
  new ResizeObserver(size).observe(canvas);
  size();
  place();
}

void start();
