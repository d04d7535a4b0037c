using System.Text.RegularExpressions;

namespace Undersand.Tests.House;

/// <summary>Who may know whom, and the manners of the house, read off the sources.</summary>
public partial class HouseTests
{
    private const int MostLines = 500, MostLinesOfACompanion = 60;

    private static readonly string[] ScienceRooms = ["Signal", "Positioning", "Acoustics", "Simulation", "Imaging", "Detection", "Planning"];
    private static readonly string[] AllRooms = [.. ScienceRooms, "Storage", "Runs", "Workbench", "App"];

    // The words know nobody; each room knows the words and these.
    private static readonly Dictionary<string, string[]> MayKnow = new()
    {
        ["src/Undersand"] = [],
        ["src/Undersand/Signal"] = [],
        ["src/Undersand/Positioning"] = [],
        ["src/Undersand/Acoustics"] = ["Signal", "Positioning"],
        ["src/Undersand/Simulation"] = ["Signal", "Positioning", "Acoustics"],
        ["src/Undersand/Imaging"] = ["Signal", "Positioning", "Acoustics"],
        ["src/Undersand/Detection"] = ["Signal", "Positioning", "Acoustics", "Simulation", "Imaging"],
        ["src/Undersand/Planning"] = ["Signal", "Positioning", "Acoustics", "Simulation", "Imaging", "Detection"],
        ["src/Undersand.Storage"] = ["Positioning"],
        ["src/Undersand.Runs"] = [.. ScienceRooms, "Storage"],
        ["src/Undersand.Runs/Reporting"] = [],
        ["src/Undersand.Workbench"] = ["Positioning", "Storage", "Runs"],
        ["src/Undersand.App"] = ["Runs", "Workbench"],
    };

    [Fact]
    public void No_room_knows_one_it_must_not_know()
    {
        List<string> wrong = [];
        foreach (string file in Sources.CSharp("src"))
        {
            string room = MayKnow.Keys.Where(r => file.StartsWith(r + "/", StringComparison.Ordinal)).MaxBy(r => r.Length)!;
            string[] forbidden = [.. AllRooms.Except(MayKnow[room]).Where(name => name != room.Split('/', '.')[^1] && !IsAround(room, name))];
            string code = Sources.Code(file);
            foreach (Match named in RoomName().Matches(code))
                if (forbidden.Contains(named.Groups["room"].Value) && !IsOwnMember(code, named))
                    wrong.Add($"{file}:{LineOf(code, named.Index)} names {named.Groups["room"].Value}");
        }
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    [Fact]
    public void The_science_names_no_files_streams_console_or_clock()
    {
        List<string> wrong = [];
        foreach (string file in Sources.CSharp("src/Undersand"))
        {
            string code = Sources.Code(file);
            wrong.AddRange(OutsideWorld().Matches(code).Select(m => $"{file}:{LineOf(code, m.Index)} names {m.Value}"));
        }
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    [Fact]
    public void A_source_file_has_at_most_500_lines()
    {
        string[] wrong = [.. Sources.CSharp("src").Select(f => (File: f, Lines: Sources.Read(f).Count(c => c == '\n'))).Where(f => f.Lines > MostLines).Select(f => $"{f.File}: {f.Lines} lines")];
        Assert.True(wrong.Length == 0, string.Join('\n', wrong));
    }

    [Fact]
    public void A_source_file_holds_the_public_type_it_is_named_after_and_at_most_small_companions()
    {
        List<string> wrong = [];
        foreach (string file in Sources.CSharp("src"))
        {
            MatchCollection types = PublicType().Matches(Sources.Code(file));
            if (types.Count == 0)
                continue;
            string name = Path.GetFileName(file).Split('.')[0];
            if (!Regex.IsMatch(Sources.Code(file), $@"\b(record|class|struct|interface|enum) {name}\b"))
                wrong.Add($"{file}: no type {name}");
            foreach (Match companion in types.Where(t => t.Groups["name"].Value != name))
                if (!IsSmallCompanion(Sources.Code(file), companion))
                    wrong.Add($"{file}: {companion.Groups["name"].Value} deserves a file of its own");
        }
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    [Fact]
    public void Nothing_unfinished_and_no_path_of_a_machine_is_committed()
    {
        // Put together here so that this file doesn't find itself.
        string[] banned = ["TO" + "DO", "FIX" + "ME", "HA" + "CK", "NotImplemented" + "Exception", "/wo" + "rk/", "/ro" + "ot/", "/ho" + "me/", "C:\\Us" + "ers"];
        var pattern = new Regex(string.Join('|', banned.Select(b => char.IsLetter(b[0]) && char.IsUpper(b[1]) ? $@"\b{b}\b" : Regex.Escape(b))));
        List<string> wrong = [];
        foreach (string file in Sources.Texts())
        {
            string text = Sources.Read(file);
            wrong.AddRange(pattern.Matches(text).Select(m => $"{file}:{LineOf(text, m.Index)} has {m.Value}"));
        }
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    [Fact]
    public void No_test_is_always_skipped()
    {
        string attribute = "Sk" + "ip = ";
        string[] wrong = [.. Sources.CSharp("tests").Where(f => Regex.IsMatch(Sources.Read(f), @"\[(Fact|Theory)\(" + attribute))];
        Assert.True(wrong.Length == 0, string.Join('\n', wrong));
    }

    [Fact]
    public void A_decision_has_a_title_what_was_chosen_and_what_else_there_was()
    {
        string folder = Path.Combine(Sources.Root, "docs", "decisions");
        string[] files = [.. Directory.EnumerateFiles(folder, "*.md")];
        Assert.NotEmpty(files);
        Assert.All(files, file =>
        {
            Assert.Matches(@"^\d{4}-[a-z0-9-]+\.md$", Path.GetFileName(file));
            string text = File.ReadAllText(file);
            Assert.Matches(@"^# \S", text);
            Assert.Matches(@"(?m)^(\*\*|## )Chosen", text);
            Assert.Matches(@"(?m)^(\*\*|## )(What else there was|Not taken)", text);
            Assert.Matches(@"(?m)^(\*\*|## )(What would|Would) change our mind", text);
        });
        Assert.Equal(files.Length, files.Select(f => Path.GetFileName(f)[..4]).Distinct().Count());
    }

    // “Undersand.Imaging” anywhere, and the half-qualified “Imaging.Focuser”.
    [GeneratedRegex(@"(?<![\w.])(Undersand\.(?<room>Signal|Positioning|Acoustics|Simulation|Imaging|Detection|Planning|Storage|Runs|Workbench|App)\b|(?<room>Signal|Positioning|Acoustics|Simulation|Imaging|Detection|Planning|Storage|Runs|Workbench|App)(?=\.[A-Z]))")]
    private static partial Regex RoomName();

    [GeneratedRegex(@"\bSystem\.IO\b|\b(Stream|FileStream|TextReader|TextWriter|StreamReader|StreamWriter|FileInfo|DirectoryInfo|Console|Stopwatch|SystemClock)\b|\bDateTime(Offset)?\.(Utc)?Now\b")]
    private static partial Regex OutsideWorld();

    [GeneratedRegex(@"(?m)^public (?:(?:sealed|static|abstract|readonly|partial|ref|unsafe) )*(?<kind>record struct|record|class|struct|interface|enum|delegate) (?<name>\w+)")]
    private static partial Regex PublicType();

    private static bool IsSmallCompanion(string code, Match type)
    {
        if (type.Groups["kind"].Value is not ("record" or "record struct" or "enum"))
            return false;
        string rest = code[type.Index..];
        Match next = Regex.Match(rest[1..], @"(?m)^(public|internal) ");
        return (next.Success ? rest[..next.Index] : rest).Count(c => c == '\n') <= MostLinesOfACompanion;
    }

    // A member that happens to be called like a room: “Runs.Where(…)” in the file that declares it.
    private static bool IsOwnMember(string code, Match named) =>
        !named.Value.StartsWith("Undersand.", StringComparison.Ordinal) && Regex.IsMatch(code, $@"[\w>\]?)]\s+{named.Value}\s*(=|\{{|;)");

    // A room inside another doesn't have to forbid its own surroundings: Reporting lies in Runs.
    private static bool IsAround(string room, string name) => room.StartsWith("src/Undersand." + name + "/", StringComparison.Ordinal);

    private static int LineOf(string text, int index) => text.AsSpan(0, index).Count('\n') + 1;
}
