namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string CoopTitle => "Cooperativa";

    public override string CoopLead => "Lo que vale para todas las personas que la forman.";

    public override string CoopSettings => "Ajustes";

    public override string CoopName => "Nombre";

    public override string CoopGrowersReadAll => "Las personas cultivadoras pueden ver las camas de las demás";

    public override string CoopGrowersReadAllSaid => "Cambiar, en todo caso solo pueden las propias.";

    public override string CoopSave => "Guardar";

    public override string CoopSaved => "Guardado.";

    public override string CoopGiveName => "Dale un nombre de 1 a 120 caracteres, en una línea.";

    public override string CoopConflict => "Otra persona lo ha cambiado mientras tanto. Míralo otra vez y vuelve a guardar.";

    public override string CoopMore => "Más";

    public override string CoopToWebhooks => "Programas que reciben aviso cuando pasa algo.";

    public override string CoopToAudit => "Quién cambió qué, en los dos últimos años.";

    public override string CoopToExport => "Todo lo que se guarda aquí, para llevárselo.";

    public override string CoopToDelete => "El final de la cooperativa aquí, y de todo lo guardado.";

    public override string ExportTitle => "Exportar";

    public override string ExportLead => "Todo lo de la cooperativa en un archivo. En el historial de cambios queda anotado que se ha descargado.";

    public override string ExportJson => "JSON, para mudarse";

    public override string ExportJsonSaid => "Un solo documento. Otro FruitWatch lo admite tal cual y devuelve el mismo documento.";

    public override string ExportCsv => "CSV, para hojas de cálculo";

    public override string ExportCsvSaid => "Una tabla por tema, en un zip. Las unidades están en la cabecera; el texto que una hoja de cálculo tomaría por fórmula empieza con un apóstrofo.";

    public override string ExportDownload => "Descargar";

    public override string ExportNotIn => "No incluye: contraseñas, tokens, enlaces personales, claves de proveedores y secretos de webhooks, correos ni el historial de cambios de este servicio.";

    public override string ExportPersonal => "Contiene nombres y direcciones de personas. Guárdalo donde solo tú puedas leerlo y bórralo cuando haya servido.";

    public override string DeleteTitle => "Borrar la cooperativa";

    public override string DeleteLead => "Se borra todo: personas, sitios, camas, registro, tiempo, pronósticos, avisos, correos, fuentes, webhooks, tokens y el historial de cambios. No se puede deshacer.";

    public override string DeleteExportFirst => "Para conservarlo, expórtalo antes.";

    public override string DeleteBackups => "Las copias que haya hecho quien opera el servicio lo conservan hasta que se desechen. Pregúntale cuánto tiempo.";

    public override string DeleteConfirm => "Escribe el nombre de la cooperativa";

    public override string DeleteButton => "Borrarlo todo";

    public override string DeleteWrongName => "Ese no es su nombre. No se ha borrado nada.";

    public override string DeleteDone => "La cooperativa está borrada";

    public override string DeleteDoneSaid => "Aquí ya no se guarda nada de ella.";

    public override string PersonLastCoordinator => "Es la última persona coordinadora. Primero haz coordinadora a otra, o borra la cooperativa.";
}
