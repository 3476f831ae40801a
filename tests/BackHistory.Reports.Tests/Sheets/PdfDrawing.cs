using PdfSharp.Pdf;
using PdfSharp.Pdf.Content;
using PdfSharp.Pdf.Content.Objects;
using PdfSharp.Pdf.IO;

namespace BackHistory.Reports.Tests.Sheets;

/// <summary>A stroked or filled path of a PDF page, its corners in mm from the page's upper left corner, y down; curves by their
/// ends.</summary>
sealed record DrawnPath(IReadOnlyList<(double X, double Y)> Corners, bool Filled)
{
    public double Left => Corners.Min(c => c.X);

    public double Right => Corners.Max(c => c.X);

    public double Top => Corners.Min(c => c.Y);

    public double Bottom => Corners.Max(c => c.Y);

    public double Width => Right - Left;

    public double Height => Bottom - Top;
}

/// <summary>Reads the pages of a PDF back: sizes, and every path through its transformations, in millimetres on paper.</summary>
sealed class PdfDrawing
{
    const double MillimetresPerPoint = 25.4 / 72;

    readonly PdfDocument document;

    public PdfDrawing(byte[] pdf) => document = PdfReader.Open(new MemoryStream(pdf), PdfDocumentOpenMode.Import);

    public PdfDocument Document => document;

    public int Pages => document.PageCount;

    public (double Width, double Height) Size(int page) =>
        (document.Pages[page].Width.Point * MillimetresPerPoint, document.Pages[page].Height.Point * MillimetresPerPoint);

    public IReadOnlyList<DrawnPath> Paths(int page)
    {
        var reader = new PathReader(document.Pages[page].Height.Point);
        foreach (var thing in ContentReader.ReadContent(document.Pages[page]).OfType<COperator>())
            reader.Take(thing);
        return reader.Paths;
    }

    sealed class PathReader(double pageHeight)
    {
        readonly Stack<double[]> saved = [];
        double[] matrix = [1, 0, 0, 1, 0, 0];
        List<(double X, double Y)> current = [];

        public List<DrawnPath> Paths { get; } = [];

        public void Take(COperator thing)
        {
            double N(int i) =>
                thing.Operands[i] switch
                {
                    CReal real => real.Value,
                    CInteger whole => whole.Value,
                    _ => throw new InvalidOperationException(thing.ToString()),
                };
            switch (thing.OpCode.Name)
            {
                case "q":
                    saved.Push(matrix);
                    break;
                case "Q":
                    matrix = saved.Pop();
                    break;
                case "cm":
                    matrix = Times([N(0), N(1), N(2), N(3), N(4), N(5)], matrix);
                    break;
                case "m" or "l":
                    Add(N(0), N(1));
                    break;
                case "c":
                    Add(N(4), N(5));
                    break;
                case "re":
                    Add(N(0), N(1));
                    Add(N(0) + N(2), N(1));
                    Add(N(0) + N(2), N(1) + N(3));
                    Add(N(0), N(1) + N(3));
                    break;
                case "S" or "s":
                    End(filled: false);
                    break;
                case "f" or "f*" or "F":
                    End(filled: true);
                    break;
                case "n" or "B" or "b":
                    current = [];
                    break;
                default:
                    break;
            }
        }

        void Add(double x, double y)
        {
            var (px, py) = (matrix[0] * x + matrix[2] * y + matrix[4], matrix[1] * x + matrix[3] * y + matrix[5]);
            current.Add((px * MillimetresPerPoint, (pageHeight - py) * MillimetresPerPoint));
        }

        void End(bool filled)
        {
            if (current.Count > 0)
                Paths.Add(new(current, filled));
            current = [];
        }

        static double[] Times(double[] a, double[] b) =>
            [
                a[0] * b[0] + a[1] * b[2],
                a[0] * b[1] + a[1] * b[3],
                a[2] * b[0] + a[3] * b[2],
                a[2] * b[1] + a[3] * b[3],
                a[4] * b[0] + a[5] * b[2] + b[4],
                a[4] * b[1] + a[5] * b[3] + b[5],
            ];
    }
}
