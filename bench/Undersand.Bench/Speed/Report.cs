using System.Globalization;
using System.Text;

namespace Undersand.Bench.Speed;

/// <summary>What the bench says, to the console and perhaps to a file.</summary>
internal sealed class Report(string? file)
{
    private readonly StringBuilder _text = new();

    public void Line(string text)
    {
        Console.WriteLine(text);
        _text.Append(text).Append('\n');
    }

    public void Row(string name, long voxelTraces, List<double> seconds, List<double>? reference)
    {
        double[] rates = [.. seconds.Select(s => voxelTraces / s / 1e6).Order()];
        string ratio = reference == null ? "–" : Number(Median([.. reference.Zip(seconds, (r, s) => r / s).Order()]), "0.00");
        string spread = rates.Length < 2 ? "–" : $"{Number(rates[0], "0")}–{Number(rates[^1], "0")}";
        Line($"| {name} | {Number(Median(rates), "0")} | {spread} | {ratio} |");
    }

    /// <summary>Counts and weighted sums against those published with the problem; a wrong count is no result.</summary>
    public void Checks(string name, FixedImage image, FixedImage plain)
    {
        const double Real = 1.318872e8, Squares = 1.71264e8, RowReal = 1.490502e6, RowSquares = 1.939717e6;
        (double real, double squares) = image.Checksum();
        (double rowReal, double rowSquares) = image.Checksum(48);
        Line($"{name}: {image.VoxelTraces} VT ({(image.VoxelTraces == FixedProblem.VoxelTraces ? "as published" : "NOT AS PUBLISHED")}); "
            + $"Σw·re {Number(real, "0.000000e0")} ({Number(real / Real - 1, "+0e0;-0e0")}), Σ|s|² {Number(squares, "0.00000e0")} ({Number(squares / Squares - 1, "+0e0;-0e0")}), "
            + $"row 48 {Number(rowReal, "0.000000e0")} ({Number(rowReal / RowReal - 1, "+0e0;-0e0")}), {Number(rowSquares, "0.000000e0")} ({Number(rowSquares / RowSquares - 1, "+0e0;-0e0")}); "
            + $"image {Number(image.DifferenceFrom(plain), "0.0e0")} from one level at a time.");
    }

    public void Save()
    {
        if (file == null)
            return;
        Directory.CreateDirectory(Path.GetDirectoryName(file)!);
        File.WriteAllText(file, _text.ToString());
    }

    private static double Median(double[] ordered) => 0.5 * (ordered[(ordered.Length - 1) / 2] + ordered[ordered.Length / 2]);

    private static string Number(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);
}
