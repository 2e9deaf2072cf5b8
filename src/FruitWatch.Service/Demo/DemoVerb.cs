using System.Globalization;
using FruitWatch.Service.Operating;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Connections;
using Microsoft.EntityFrameworkCore;
using NodaTime.Text;

namespace FruitWatch.Service.Demo;

/// <summary>The command <c>demo</c>: an invented cooperative, to look at and to step through a season.</summary>
internal static class DemoVerb
{
    /// <summary>Runs until it is stopped.</summary>
    /// <exception cref="VerbException">It cannot start, for a reason that its user can mend.</exception>
    public static async Task RunAsync(VerbOptions given, TextWriter output, CancellationToken stop = default)
    {
        var options = DemoOptions.Of(given);
        await using var demo = await DemoHost.OpenAsync(options, stop);
        try
        {
            await demo.App.StartAsync(stop);
        }
        catch (IOException taken) when (taken.InnerException is AddressInUseException)
        {
            throw new VerbException(FormattableString.Invariant(
                $"Port {options.Port} is in use by another program. Stop it, or name another port: demo --port {(options.Port < 65535 ? options.Port + 1 : 5080)}"));
        }

        await DescribeAsync(demo, output, stop);
        await demo.App.WaitForShutdownAsync(stop);
    }

    private static async Task DescribeAsync(DemoHost demo, TextWriter output, CancellationToken stop)
    {
        await using var store = demo.Stores.CreateDbContext();
        var beds = await store.Beds.CountAsync(bed => bed.RetiredOn == null, stop);
        var notices = await store.Notices.CountAsync(notice => notice.State == NoticeState.Open, stop);
        var mails = await store.Outbox.CountAsync(mail => mail.State == MailState.Sent, stop);
        var day = LocalDatePattern.Iso.Parse(demo.Stepper.Today).Value.ToString("dddd, d MMMM uuuu", CultureInfo.InvariantCulture);
        var address = demo.Options.BaseUrl.ToString().TrimEnd('/');
        await output.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"""
            The demo is at {address}: an invented cooperative with {beds} beds.
            It is the morning of {day} there. Open notices: {notices}. Mails so far: {mails}.
            The mails are files for any mail reader, in {demo.Options.MailFolder}
            Next morning: the buttons at the top of each page.
            Ctrl+C ends it; the same command goes on from this day.
            """));
    }
}
