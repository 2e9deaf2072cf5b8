using System.Net;
using System.Net.Sockets;
using FruitWatch.Service.Demo;
using FruitWatch.Service.Operating;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Demo;

public sealed class DemoStartTests
{
    [Theory]
    [InlineData("port", "80a", "--port 80a: expected a whole number from 1 to 65535.")]
    [InlineData("port", "70000", "--port 70000: expected a whole number from 1 to 65535.")]
    [InlineData("weather", "rain", "--weather rain: expected invented or seattle.")]
    [InlineData("seed", "-1", "--seed -1: expected a whole number from 0 to 2147483647.")]
    [InlineData("start", "5.10.2026", "--start 5.10.2026: expected a date such as 2026-10-05.")]
    public void A_value_that_cannot_be_read_is_named(string name, string value, string message)
    {
        var error = Assert.Throws<VerbException>(() => DemoOptions.Of(VerbOptions.Parse(["--" + name, value], DemoOptions.Known)));
        Assert.Equal(message, error.Message);
    }

    [Fact]
    public async Task A_start_without_weather_names_the_days_that_have_it()
    {
        using var folder = new DemoFolder();
        var error = await Assert.ThrowsAsync<VerbException>(
            () => DemoHost.OpenAsync(new DemoOptions(folder.Path) { Start = new LocalDate(2020, 5, 1) }));
        Assert.Equal("--start 2020-05-01: this weather allows 2021-10-07 to 2030-09-22.", error.Message);
    }

    [Fact]
    public async Task A_demo_that_has_begun_is_not_mixed_with_another()
    {
        using var folder = new DemoFolder();
        await using (await DemoHost.OpenAsync(new DemoOptions(folder.Path) { Seed = 5 }))
        {
        }

        foreach (var other in new[]
        {
            new DemoOptions(folder.Path) { Seed = 6 },
            new DemoOptions(folder.Path) { Weather = DemoWeatherKind.Seattle },
            new DemoOptions(folder.Path) { Start = new LocalDate(2026, 7, 1) },
        })
        {
            var error = await Assert.ThrowsAsync<VerbException>(() => DemoHost.OpenAsync(other));
            Assert.Contains("holds a demo that has begun (Invented weather, seed 5", error.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_store_of_real_growers_is_left_alone()
    {
        using var folder = new DemoFolder();
        var stores = new StoreFactory(new StoreOptions { DataFolder = folder.Path });
        await StoreMigration.PrepareAsync(stores, new FakeClock(Instant.FromUtc(2026, 10, 1, 6, 0)), NullLogger.Instance);
        await using (var store = stores.CreateDbContext())
        {
            store.Add(new Cooperative { Name = "Alder Lane" });
            await store.SaveChangesAsync();
        }

        var error = await Assert.ThrowsAsync<VerbException>(() => DemoHost.OpenAsync(new DemoOptions(folder.Path)));
        Assert.Equal($"{folder.Path} holds a cooperative that is no demo, and is left alone. Name another folder with --data.", error.Message);
    }

    [Fact]
    public async Task A_port_that_is_taken_is_said_plainly()
    {
        using var folder = new DemoFolder();
        using var other = new TcpListener(IPAddress.Loopback, 0);
        other.Start();
        var port = ((IPEndPoint)other.LocalEndpoint).Port;
        var options = VerbOptions.Parse(["--data", folder.Path, "--port", FormattableString.Invariant($"{port}")], DemoOptions.Known);
        var error = await Assert.ThrowsAsync<VerbException>(() => DemoVerb.RunAsync(options, TextWriter.Null));
        Assert.StartsWith(FormattableString.Invariant($"Port {port} is in use by another program."), error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task It_says_where_it_is_and_what_it_holds()
    {
        using var folder = new DemoFolder();
        using var free = new TcpListener(IPAddress.Loopback, 0);
        free.Start();
        var port = ((IPEndPoint)free.LocalEndpoint).Port;
        free.Stop();
        var options = VerbOptions.Parse(["--data", folder.Path, "--port", FormattableString.Invariant($"{port}")], DemoOptions.Known);
        using var stop = new CancellationTokenSource();
        await using var output = new Watched(stop);
        await DemoVerb.RunAsync(options, output, stop.Token);
        var said = output.ToString();
        Assert.Contains(FormattableString.Invariant($"http://localhost:{port}: an invented cooperative with 13 beds."), said, StringComparison.Ordinal);
        Assert.Contains("Saturday, 10 October 2026", said, StringComparison.Ordinal);
        Assert.Contains("Mails so far: 5.", said, StringComparison.Ordinal);
        Assert.Contains(Path.Combine(folder.Path, "mail"), said, StringComparison.Ordinal);
    }

    /// <summary>Stops the demo once it has said what it has to say.</summary>
    private sealed class Watched(CancellationTokenSource stop) : StringWriter
    {
        public override async Task WriteLineAsync(string? value)
        {
            await base.WriteLineAsync(value);
            await stop.CancelAsync();
        }
    }
}
