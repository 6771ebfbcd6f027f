// The sign of a window that is lost: the upper bar, the window, ends before the lower one, the film, has arrived.
export function RaceSign() {
  return (
    <svg className="race-sign" viewBox="0 0 24 18" width="24" height="18" aria-hidden="true" focusable="false">
      <path d="M1 2h12v5H1z" fill="none" stroke="currentColor" strokeWidth="2" />
      <path d="M1 11.5h16" stroke="currentColor" strokeWidth="5" strokeDasharray="3 1.5" />
      <path d="M22 8v8" stroke="currentColor" strokeWidth="2.4" />
      <path d="M13 0v18" stroke="currentColor" strokeWidth="1.2" strokeDasharray="2 2" />
    </svg>
  );
}
