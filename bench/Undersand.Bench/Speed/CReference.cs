using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;

namespace Undersand.Bench.Speed;

/// <summary>The hand-written C kernel of ../shared/bench, compiled into a temporary folder; where the processor has no AVX-512, with each 512-bit operation as two of 256 (halves.h).</summary>
internal sealed partial class CReference : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("undersand-bench-").FullName;

    private CReference(bool halves, string compiler) => (Halves, Compiler) = (halves, compiler);

    /// <summary>Whether it runs as 256-bit halves.</summary>
    public bool Halves { get; }

    public string Compiler { get; }

    public string Name => Halves ? "C, records, 512-bit operations as two halves" : "C, AVX-512 records";

    /// <summary>The compiled reference, or null and the reason.</summary>
    public static CReference? Compile(string root, bool halves, out string reason)
    {
        string sources = Path.GetFullPath(Path.Combine(root, "..", "shared", "bench"));
        reason = $"no {Path.Combine("..", "shared", "bench", "reference.c")} beside the repository";
        if (!File.Exists(Path.Combine(sources, "reference.c")))
            return null;
        reason = "no gcc";
        if (TryRun("gcc", ["--version"], out string version) != 0)
            return null;
        var made = new CReference(halves, version.Split('\n')[0]);
        string source = File.ReadAllText(Path.Combine(sources, "reference.c"));
        if (halves)
            source = OnlyRecords(source);
        File.WriteAllText(Path.Combine(made._folder, "reference.c"), source);
        List<string> arguments = ["-O3", "-march=native", "-ffp-contract=off", "-fopenmp", "-D_GNU_SOURCE", "-w", "-I" + sources];
        if (halves)
            arguments.AddRange(["-include", Path.Combine(root, "bench", "Undersand.Bench", "Speed", "halves.h")]);
        arguments.AddRange([Path.Combine(made._folder, "reference.c"), "-o", made.Program, "-lm"]);
        if (TryRun("gcc", arguments, out string messages) == 0)
            return made;
        reason = "gcc: " + messages.Split('\n').FirstOrDefault(l => l.Contains("error"));
        made.Dispose();
        return null;
    }

    /// <summary>Least seconds of some runs in one process.</summary>
    public double Run(int repeats, int threads)
    {
        Environment.SetEnvironmentVariable("OMP_NUM_THREADS", threads.ToString(CultureInfo.InvariantCulture));
        if (TryRun(Program, [repeats.ToString(CultureInfo.InvariantCulture), "-"], out string output) != 0)
            throw new InvalidOperationException(output);
        string line = output.Split('\n').Last(l => l.Contains("record") && l.Contains("median"));
        if (!line.Contains($"VT {FixedProblem.VoxelTraces}"))
            throw new InvalidOperationException("the C reference counts otherwise: " + line);
        return double.Parse(Least().Match(line).Groups[1].Value, CultureInfo.InvariantCulture);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private string Program => Path.Combine(_folder, "reference");

    /// <summary>Leaves out the gathering variant, for which halves.h has no operations.</summary>
    private static string OnlyRecords(string source)
    {
        int from = source.IndexOf("// one trace on the 64 depths of one column", StringComparison.Ordinal);
        int to = source.IndexOf("static inline __attribute__((always_inline)) V quad", StringComparison.Ordinal);
        return source.Remove(from, to - from).Replace("BLOCKED(gather_all, trace_gather, P->s, 2 * NS)", "static void gather_all(void) {}").Replace("? 1 : 0; v < 3", "? 2 : 0; v < 3");
    }

    private static int TryRun(string program, IEnumerable<string> arguments, out string output)
    {
        try
        {
            using Process process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true })!;
            Task<string> errors = process.StandardError.ReadToEndAsync();
            output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            output += errors.Result;
            return process.ExitCode;
        }
        catch (System.ComponentModel.Win32Exception e)
        {
            output = e.Message;
            return -1;
        }
    }

    [GeneratedRegex(@"min ([0-9.]+)")]
    private static partial Regex Least();
}
