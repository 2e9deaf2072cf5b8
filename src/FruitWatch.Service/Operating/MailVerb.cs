using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Channels.Email.Checking;
using FruitWatch.Service.Channels.Email.Signing;

namespace FruitWatch.Service.Operating;

/// <summary>The commands <c>mail check</c>, how mails leave before the first one has to, and <c>mail new-key</c>.</summary>
internal static class MailVerb
{
    /// <summary>With the settings that the service has. Neither the store is opened nor a job started.</summary>
    public static async Task CheckAsync(VerbOptions asked, TextWriter output)
    {
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions { ContentRootPath = AppContext.BaseDirectory });
        var service = builder.Configuration.GetSection(ServiceOptions.Section).Get<ServiceOptions>() ?? new ServiceOptions();
        var options = MailOptions.Read(builder.Configuration);
        using var limit = new CancellationTokenSource(TimeSpan.FromMinutes(2));
        await CheckAsync(options, DkimSigning.Read(options.Dkim), service, asked.Optional("to"), TimeProvider.System, output, limit.Token);
    }

    /// <summary>Draws another key for the links in mails, where the one that is kept cannot be read.</summary>
    public static Task NewKeyAsync(MailKey key, TextWriter output) => output.WriteLineAsync(key.Replace()
        ? "Another key was drawn. Links in mails that were sent before work no longer. Start every server again."
        : "The key can be read, or there is none yet: nothing was changed.");

    /// <exception cref="VerbException">The relay cannot be used; says at which step, and why.</exception>
    public static async Task CheckAsync(
        MailOptions options, DkimSigning signing, ServiceOptions service, string? to, TimeProvider time, TextWriter output, CancellationToken stop)
    {
        if (to is not null && !MailOptions.IsOneAddress(to))
            throw new VerbException($"--to: '{to}'; expected one address, such as maren@example.org.");
        await MailSettings.WriteAsync(options, service, output);
        await output.WriteLineAsync();
        await DnsRecords.WriteAsync(options, signing, service.BaseUrl, output);
        await output.WriteLineAsync();
        if (!options.HasRelay)
        {
            await output.WriteLineAsync(to is null
                ? "There is no relay to try."
                : "There is no relay to try, so nothing was sent. Set Mail:Host.");
            return;
        }

        await new RelayTrial(options, signing, service, time).RunAsync(to?.Trim(), output, stop);
    }
}
