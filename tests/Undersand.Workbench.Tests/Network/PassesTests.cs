using NodaTime;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Network;

namespace Undersand.Workbench.Tests.Network;

public sealed class PassesTests : IDisposable
{
    private readonly TestFolder _folder = new();

    private string File => _folder["devices.json"];

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_pairing_outlives_a_restart_and_the_file_lets_nobody_in()
    {
        string secret = new Passes(File, SystemClock.Instance).Give(Role.Judge, "Ada");
        Pass again = Assert.IsType<Pass>(new Passes(File, SystemClock.Instance).Of(secret));
        Assert.Equal((Role.Judge, "Ada"), (again.Role, again.Who));
        Assert.DoesNotContain(secret, System.IO.File.ReadAllText(File));
        Assert.Null(new Passes(File, SystemClock.Instance).Of(again.Proof));
        Assert.True(secret.Length >= 43);
    }

    [Fact]
    public void A_forgotten_device_may_do_nothing_and_the_others_stay()
    {
        var passes = new Passes(File, SystemClock.Instance);
        string first = passes.Give(Role.Run, "Ada"), second = passes.Give(Role.Look, "Ben");
        passes.Forget(passes.Of(first)!.Id);
        Assert.Null(passes.Of(first));
        Assert.Equal("Ben", Assert.Single(new Passes(File, SystemClock.Instance).All).Who);
        Assert.Equal(Role.Look, passes.RoleOf(passes.Of(second)!.Id));
    }

    [Fact]
    public void A_pairing_ends_after_thirty_days()
    {
        var clock = new SetClock(Instant.FromUtc(2026, 5, 4, 12, 0));
        var passes = new Passes(File, clock);
        string secret = passes.Give(Role.Look, "Ada"), id = passes.Of(secret)!.Id;
        clock.Now += Duration.FromDays(30) - Duration.Epsilon;
        Assert.NotNull(passes.Of(secret));
        clock.Now += Duration.Epsilon;
        Assert.Null(passes.Of(secret));
        Assert.Null(passes.RoleOf(id));
        Assert.Empty(passes.All);
    }

    [Theory]
    [InlineData("")]
    [InlineData("[{}]")]
    [InlineData("[{\"id\":\"a\",\"proof\":\"b\",\"role\":\"Captain\",\"who\":\"c\",\"since\":\"2026-05-04T12:00:00Z\"}]")]
    [InlineData("{}")]
    public void A_damaged_file_is_named_and_kept(string text)
    {
        System.IO.File.WriteAllText(File, text);
        SurveyException said = Assert.Throws<SurveyException>(() => new Passes(File, SystemClock.Instance));
        Assert.Contains("devices.json", said.Message);
        Assert.Equal(text, System.IO.File.ReadAllText(File));
    }

    [Fact]
    public void A_code_opens_its_role_however_it_is_typed()
    {
        using var codes = new PairingCodes();
        foreach (Role role in Enum.GetValues<Role>())
            foreach (string typed in new[] { codes.Of(role), codes.Of(role).Replace(" ", ""), " " + codes.Of(role).Replace(' ', '-') + " " })
            {
                Assert.True(codes.Try(typed, out Role found));
                Assert.Equal(role, found);
            }
        Assert.Equal(3, Enum.GetValues<Role>().Select(codes.Of).Distinct().Count());
    }

    [Fact]
    public void After_five_wrong_codes_even_a_right_one_must_wait()
    {
        using var codes = new PairingCodes();
        string right = codes.Of(Role.Look);
        foreach (string? wrong in new[] { null, "", "12345678x", "٠١٢٣٤٥٦٧", right + "0" })
            Assert.False(codes.Try(wrong, out _));
        Assert.Null(codes.Try(right, out _));
    }

    [Fact]
    public void New_codes_make_the_old_ones_worthless()
    {
        using var codes = new PairingCodes();
        string old = codes.Of(Role.Run);
        codes.Renew();
        Assert.False(codes.Try(old, out _));
    }

    private sealed class SetClock(Instant now) : IClock
    {
        public Instant Now { get; set; } = now;

        public Instant GetCurrentInstant() => Now;
    }
}
